/**
 * The whole service with handing over in it, over sockets: what an offer says of guesses, what the photographer tells, and the licence from
 * price to zip. Rules HD6–HD8 of docs/rules/handing.md, OR39, LW1.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { logOf } from '../../../test/builders/arrangement.js';
import { galleryDay } from '../../../test/builders/galleryDay.js';
import { offerOf } from '../../core/handover/offerOf.js';
import { type LicenceKind, minorOf, type Offer, type OrderId } from '../../core/handover/orders/index.js';
import { planGallery } from '../../core/handover/planGallery.js';
import type { RiderId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import { openHanding } from '../handing/index.js';
import type { FinalMaker } from '../handing/types.js';
import { offerOfDay } from '../testing/shopDay.js';
import { type AdminClient, adminClient } from './adminClient.js';
import { type OpenShop, openShop } from './openShop.js';

let folder: string;
let shop: OpenShop;
let client: AdminClient;
let site: string;
const asked: LicenceKind[] = [];

/** Begins and ends as a JPEG does, and says whose terms it carries. */
const maker: FinalMaker = {
  make: async (pictures, { licence }, into) => {
    asked.push(licence);
    const made = pictures.map(async (picture) => {
      const path = join(into, `${picture}.jpg`);
      await writeFile(
        path,
        Buffer.concat([Buffer.from('ffd8', 'hex'), Buffer.from(licence), Buffer.from('ffd9', 'hex')]),
      );
      return [picture, { path }] as const;
    });
    return new Map(await Promise.all(made));
  },
};

/** An offer as the laptop lays it, of a day in which a person has said this much. */
const day = galleryDay({ riders: 2 });
const publicIdOf = (_: string, what: string): string =>
  [...what]
    .reduce((hash, letter) => (hash * 33n + BigInt(letter.charCodeAt(0))) % (1n << 127n), 7n)
    .toString(16)
    .padStart(32, '0');
function offered(decisions: readonly Decision[]): Offer {
  const proofs = [...day.keepers.byRider.values()]
    .flat()
    .map(({ bike }) => [bike.frameId, { widthPx: 9, heightPx: 6 }] as const);
  const mint = (face: string) => `minted ${face}` as RiderId;
  const { gallery } = planGallery({
    ...day,
    edition: 'first',
    contact: null,
    proofs: new Map(proofs),
    publicIdOf,
    mint,
  });
  const { seller, prices } = offerOfDay;
  const meeting = publicIdOf('meeting', 'm');
  return offerOf({ ...day, gallery, log: logOf(decisions), meeting, address: null, seller, prices, withdrawn: [] });
}

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tyrewall-seams-'));
  const data = join(folder, 'orders');
  shop = await openShop({
    data,
    database: null,
    offers: [offered([])],
    site: null,
    listen: '127.0.0.1',
    port: 0,
    adminListen: '127.0.0.1',
    adminPort: 0,
    isBehindProxy: false,
    parts: async (ports, dataFolder) => [await openHanding(ports, { dataFolder, maker })],
  });
  site = `http://127.0.0.1:${shop.port}`;
  client = adminClient(`http://127.0.0.1:${shop.adminPort}`, readFileSync(join(data, 'admin.key'), 'utf8').trim());
  return async () => {
    await shop.close();
    rmSync(folder, { recursive: true, force: true });
  };
});

/** Ordered in a browser without scripts, and paid in cash. */
async function bought(lines: readonly string[], { meeting, riders }: Offer): Promise<OrderId> {
  const cookies = new Map<string, string>();
  const ask = async (path: string, fields?: Record<string, string>) => {
    const cookie = [...cookies].map(([name, value]) => `${name}=${value}`).join('; ');
    const body = fields === undefined ? {} : { method: 'POST', body: new URLSearchParams(fields) };
    const answer = await fetch(`${site}${path}`, { ...body, headers: { cookie, origin: site }, redirect: 'manual' });
    for (const line of answer.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(line)!;
      cookies.set(name, value);
    }
    return { html: await answer.text(), location: answer.headers.get('location') ?? '' };
  };
  const token = /name="token" value="([0-9a-f]{64})"/.exec(
    (await ask(`/${meeting}/rider/${riders[0]!.publicId}`)).html,
  )![1]!;
  for (const line of lines) await ask(`/${meeting}/basket`, { token, do: 'put', line });
  const seen = /name="seen" value="(\d+)"/.exec((await ask(`/${meeting}/order`)).html)![1]!;
  const typed = { name: 'Someone', mail: 'someone@example.org', way: 'cash', supply: 'yes', loss: 'yes' };
  const { location } = await ask(`/${meeting}/order`, { token, seen, ...typed });
  const order = location.replace('/order/', '') as OrderId;
  await client.tell(order, {
    key: `till-${order}`,
    fact: { kind: 'paid', amount: Number(seen), way: 'cash', reference: '' },
  });
  return order;
}
const page = async (order: OrderId) => (await fetch(`${site}/order/${order}`)).text();
const waits = 'People look through them before they are handed over';
const linked = (order: OrderId) => vi.waitFor(async () => expect(await page(order)).toContain('/handed/'), 5000);
const dayOf = ({ riders }: Offer) => `day:day:${riders[0]!.publicId}:2026-09-19:1`;

describe('a whole day that was joined by guess', () => {
  it('HD6, HD7: is not released by one sign, nor by the same person’s other one, nor past the signs’ own address', async () => {
    const offer = offered([]);
    expect(offer.riders[0]!.isJoinedByGuess).toBe(true);
    const order = await bought([dayOf(offer)], offer);
    const { pictures } = offer.riders[0]!;
    await vi.waitFor(async () =>
      expect((await client.waiting())[0]).toMatchObject({ toCome: 0, signs: { signedBy: [] } }),
    );
    expect(await page(order)).toContain(waits);
    const sign = (by: string) => client.sign(order, { by, pictures, isSecondLook: false });
    expect(await sign('First')).toMatchObject({ kind: 'waits' });
    expect(await sign(' first ')).toMatchObject({ kind: 'waits' });
    for (const by of ['Second', 'Third']) {
      const fact = { kind: 'signed', by, pictures } as never;
      await expect(client.tell(order, { key: `forged-${by}`, fact })).rejects.toThrow('fact.kind');
    }
    await expect(
      client.sign(order, { by: 'Second', pictures: pictures.slice(1), isSecondLook: false }),
    ).rejects.toThrow('not of the same');
    await expect(client.link(order, null)).rejects.toThrow('looked through');
    expect(await page(order)).toContain(waits);
    expect(await page(order)).not.toContain('/handed/');
    expect(await sign('Second')).toEqual({ kind: 'open' });
    await linked(order);
  });

  it('follows a newer offer at once: confirmed since, it goes without signs; a guess again, its link waits', async () => {
    const guess = offered([]);
    const order = await bought([dayOf(guess)], guess);
    expect(await page(order)).toContain(waits);
    const of = (n: number) => {
      const pass = day.arrangement.passes[day.arrangement.riders[0]!.passes[n]!]!;
      const { mainFile: file } = day.arrangement.exposures.find(({ frameId }) => frameId === pass.bikes[0]!.frameId)!;
      return { file, x: 0.5, y: 0.5, box: [0.4, 0.4, 0.2, 0.2], aspect: 1.5 } as const;
    };
    const sure = offered([{ kind: 'same-rider', points: [of(0), of(1)] }]);
    const [mine] = sure.riders.filter(({ publicId }) => publicId === guess.riders[0]!.publicId);
    expect(mine!.isJoinedByGuess).toBe(false);
    await client.putOffer(sure);
    await linked(order);
    const link = /href="http:\/\/[^/]+(\/handed\/[^"]+)"/.exec(await page(order))![1]!;
    expect((await fetch(`${site}${link}`)).status).toBe(200);
    await client.putOffer(guess);
    expect((await fetch(`${site}${link}`)).status).toBe(409);
  });
});

it('OR39: what is told of a link or of paper is looked at: no link of a later time is ended ahead', async () => {
  const offer = offered([]);
  const order = await bought([`one:picture:${offer.riders[0]!.pictures[0]}:1`], offer);
  await linked(order);
  const tell = (fact: object) =>
    client.tell(order, { key: `odd-${JSON.stringify(fact).length}-fact`, fact: fact as never });
  await expect(tell({ kind: 'link-revoked', generation: 2 })).rejects.toThrow('at most number 1 of this order');
  await expect(tell({ kind: 'handed-over', what: 'zip', picture: null, bytes: 9 })).rejects.toThrow('fact.what');
  const paper = { kind: 'handed-over', what: 'print', picture: offer.pictures[0]!.id, bytes: 0 };
  await expect(tell(paper)).rejects.toThrow('Expected a print of this order');
  await tell({ kind: 'link-revoked', generation: 1 });
  expect(await page(order)).toContain('was taken back');
});

it('LW1: a licence goes from its price to the order, the receipt’s lines, the final and the terms beside it', async () => {
  const plain = offered([]);
  const offer: Offer = { ...plain, credit: 'Quill', terms: { press: 'Press of {meeting}: name {credit}.' } };
  await client.putOffer(offer);
  const [picture] = offer.riders[0]!.pictures;
  expect(await (await fetch(`${site}/${offer.meeting}/picture/${picture}`)).text()).toContain('for the press');
  asked.length = 0;
  const order = await bought([`press:picture:${picture}:1`], offer);
  await linked(order);
  expect(asked).toEqual(['press']);
  const shown = await page(order);
  expect(shown).toContain('Press of Ebbstone: name Quill.');
  const [{ state }] = (await client.orders()) as unknown as readonly [
    { state: { placed: { lines: { licence: string }[] } } },
  ];
  expect(state.placed.lines[0]!.licence).toBe('press');
  const link = /href="http:\/\/[^/]+(\/handed\/[^"]+)"/.exec(shown)![1]!;
  const zip = Buffer.from(await (await fetch(`${site}${link}/all.zip`)).arrayBuffer());
  for (const said of ['-press.jpg', 'terms.txt', 'Press of Ebbstone: name Quill.'])
    expect(zip.includes(said), said).toBe(true);
  expect(zip.includes('For personal use')).toBe(false);
  expect(offer.prices.products.find(({ licence }) => licence === 'press')!.price).toBe(minorOf(9000, ''));
});
