/** The service as it runs, over sockets: OR34–OR36 of docs/rules/orders.md. */
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { minorOf, type Offer, type OrderId } from '../../core/handover/orders/index.js';
import { fetchedOrdersPath, fetchOrders, readFetchedOrders } from '../../host/orders/fetchedOrders.js';
import { openHanding } from '../handing/index.js';
import { noiseMaker } from '../handing/testing.js';
import { MEETING, offerOfDay, pictureId, RIDER } from '../testing/shopDay.js';
import { adminClient } from './adminClient.js';
import { adminDoor, hashPassword, isLongEnough } from './adminKeys.js';
import { keepAdminPassword, openDataFolder } from './dataFolder.js';
import { type OpenShop, openShop, type ShopWish } from './openShop.js';
import { referenceOf } from './reference.js';

let folder: string;
let data: string;
let shop: OpenShop;
let close: () => Promise<void>;
const wish = (): ShopWish => ({
  data,
  database: null,
  offers: [offerOfDay],
  site: null,
  listen: '127.0.0.1',
  port: 0,
  adminListen: '127.0.0.1',
  adminPort: 0,
  isBehindProxy: false,
});
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tyrewall-shop-'));
  data = join(folder, 'orders');
  shop = await openShop(wish());
  close = () => shop.close();
  return async () => {
    await close();
    rmSync(folder, { recursive: true, force: true });
  };
});
const again = async () => {
  await shop.close();
  shop = await openShop(wish());
};

/** With Node's own agent, since `fetch` sets `Host` itself. */
function ask(
  port: number,
  path: string,
  { method = 'GET', headers = {}, body }: { method?: string; headers?: Record<string, string>; body?: string } = {},
): Promise<{ status: number; text: string; location: string; cookies: readonly string[] }> {
  return new Promise((resolve, reject) => {
    const sent = request({ host: '127.0.0.1', port, path, method, headers }, (answer) => {
      let text = '';
      answer.on('data', (chunk: Buffer) => {
        text += chunk.toString();
      });
      answer.on('end', () =>
        resolve({
          status: answer.statusCode ?? 0,
          text,
          location: answer.headers.location ?? '',
          cookies: (answer.headers['set-cookie'] ?? []).map((one) => one.split(';')[0]!),
        }),
      );
    });
    sent.on('error', reject);
    sent.end(body);
  });
}

const client = () =>
  adminClient(`http://127.0.0.1:${shop.adminPort}`, readFileSync(join(data, 'admin.key'), 'utf8').trim());

async function placeOne(line = `day:day:${RIDER}:2026-09-19:1`, seen = '4500'): Promise<OrderId> {
  const site = `http://127.0.0.1:${shop.port}`;
  const page = await ask(shop.port, `/${MEETING}/rider/${RIDER}`);
  const token = /name="token" value="([0-9a-f]{64})"/.exec(page.text)![1]!;
  const post = (path: string, cookie: readonly string[], fields: Record<string, string>) =>
    ask(shop.port, path, {
      method: 'POST',
      headers: { cookie: cookie.join('; '), origin: site, 'content-type': 'application/x-www-form-urlencoded' },
      body: new URLSearchParams({ token, ...fields }).toString(),
    });
  const put = await post(`/${MEETING}/basket`, page.cookies, { do: 'put', line });
  const buyer = { name: 'Someone', mail: 'someone@example.org', way: 'cash', supply: 'yes', loss: 'yes', seen };
  const placed = await post(`/${MEETING}/order`, [...page.cookies, ...put.cookies], buyer);
  return placed.location.replace('/order/', '') as OrderId;
}

describe('the photographer’s side', () => {
  it('finds an order by its reference, is told of cash once, and fetches what is new; all of it survives a start', async () => {
    const order = await placeOne();
    expect(order).toMatch(/^[0-9a-f]{32}$/);
    const typed = referenceOf(order).toLowerCase().replace('-', ' ');
    expect(await client().ordersOf(typed)).toMatchObject([{ state: { id: order, owed: 4500 } }]);
    const cash = { key: 'till-0001', fact: { kind: 'paid', amount: 4500, way: 'cash', reference: 'tin' } } as const;
    await client().tell(order, cash);
    await again();
    expect(await client().tell(order, cash)).toMatchObject({ state: { paid: 4500, standing: 'paid' } });

    const meeting = join(folder, 'meeting');
    const fetchAll = () => fetchOrders(meeting, (since) => client().factsSince(since, MEETING));
    expect(await fetchAll()).toBe(2);
    expect(await fetchAll()).toBe(0);
    expect((await readFetchedOrders(meeting)).facts.map(({ fact }) => fact.kind)).toEqual(['placed', 'paid']);
    expect((await readFetchedOrders(meeting)).papers).toMatchObject([
      { order, kind: 'invoice', number: expect.stringMatching(/-\d+$/) },
    ]);
    expect(statSync(fetchedOrdersPath(meeting)).mode & 0o077).toBe(0);
    expect(await fetchOrders(join(folder, 'other'), (since) => client().factsSince(since, 'f'.repeat(32)))).toBe(0);
  });

  it('OR15: the same sum paid the same way on two orders is two payments', async () => {
    const cash = { key: 'cash-0-4500', fact: { kind: 'paid', amount: 4500, way: 'cash', reference: '' } } as const;
    for (const order of [await placeOne(), await placeOne()])
      expect(await client().tell(order, cash)).toMatchObject({ state: { id: order, standing: 'paid' } });
  });

  it('OR20, OR36: a contact removed at the service is out of what was fetched, too', async () => {
    const order = await placeOne();
    const meeting = join(folder, 'meeting');
    const fetchAll = () => fetchOrders(meeting, (since) => client().factsSince(since, MEETING));
    await fetchAll();
    expect(readFileSync(fetchedOrdersPath(meeting), 'utf8')).toContain('someone@example.org');
    await client().tell(order, { key: 'erase-0001', fact: { kind: 'contact-removed' } });
    await fetchAll();
    expect(readFileSync(fetchedOrdersPath(meeting), 'utf8')).not.toMatch(/someone/i);
    expect((await ask(shop.port, `/order/${order}`)).text).not.toMatch(/someone/i);
  });

  it('refuses what is no fact of the photographer’s, no offer, no voucher, in a sentence that says where', async () => {
    const order = await placeOne();
    const tell = (fact: object) => client().tell(order, { key: 'till-0002', fact: fact as never });
    await expect(tell({ kind: 'placed' })).rejects.toThrow('fact.kind');
    await expect(tell({ kind: 'paid', amount: 12.5, way: 'cash', reference: '' })).rejects.toThrow('fact.amount');
    await expect(tell({ kind: 'refunded', amount: 1, why: 'kindness', reference: '' })).rejects.toThrow('at most 0');
    const odd = { ...offerOfDay, prices: { ...offerOfDay.prices, currency: 'EURO' } };
    await expect(client().putOffer(odd)).rejects.toThrow('prices.currency: a currency of ISO 4217');
    const voucher = { code: 'NEW-20', kind: 'percent', off: 2000, uses: 3, expiresAt: null } as const;
    await client().putVoucher(MEETING, voucher);
    await expect(client().putVoucher('0'.repeat(32), voucher)).rejects.toThrow('nothing here');
    await expect(client().putVoucher(MEETING, { ...voucher, code: 'small' })).rejects.toThrow('code');
  });

  it('OR35: lets in the key of the data folder and nobody else, and not under another host', async () => {
    const key = readFileSync(join(data, 'admin.key'), 'utf8').trim();
    const status = async (headers: Record<string, string>) =>
      (await ask(shop.adminPort, '/api/orders', { headers })).status;
    expect(await status({ authorization: `Bearer ${key}` })).toBe(200);
    expect(await status({})).toBe(401);
    expect(await status({ authorization: `Bearer ${key.slice(1)}0` })).toBe(401);
    expect(await status({ authorization: `Bearer ${key}`, host: 'evil.example' })).toBe(421);
    expect((await ask(shop.port, '/api/orders', { headers: { authorization: `Bearer ${key}` } })).status).toBe(404);
  });

  it('OR35: listens beyond this machine only once a password is set; a wrong one soon has to wait', async () => {
    await shop.close();
    close = () => Promise.resolve();
    await expect(openShop({ ...wish(), adminListen: '0.0.0.0' })).rejects.toThrow('Expected a password');
    const password = 'a sentence nobody guesses';
    await keepAdminPassword(await openDataFolder(data), await hashPassword(password));
    const { settings, adminKey } = await openDataFolder(data);
    expect(settings.adminPassword).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    expect(readFileSync(join(data, 'settings.json'), 'utf8')).not.toContain(password);
    let now = 0;
    const knock = adminDoor({ adminKey, adminPassword: settings.adminPassword }, () => now);
    expect(await knock(password)).toBe('let-in');
    for (let n = 0; n < 4; n++) expect(await knock('wrong')).toBe('refused');
    expect(await knock('wrong')).toBe('too-often');
    // Who is known, and who has the key, does not wait for others' tries.
    expect([await knock(password), await knock(adminKey)]).toEqual(['let-in', 'let-in']);
    now = 60_000;
    expect(await knock('wrong')).toBe('refused');
    expect([isLongEnough('eleven sign'), isLongEnough('twelve signs')]).toEqual([false, true]);
  });
});

describe('handing over in the whole service', () => {
  const withGuess = (isJoinedByGuess: boolean): Offer => ({
    ...offerOfDay,
    riders: offerOfDay.riders.map((rider) => ({ ...rider, isJoinedByGuess })),
  });
  beforeEach(async () => {
    await shop.close();
    const parts: ShopWish['parts'] = async (ports, dataFolder) => [
      await openHanding(ports, { dataFolder, maker: noiseMaker(90) }),
    ];
    shop = await openShop({ ...wish(), offers: [withGuess(true)], parts });
  });
  const page = async (order: OrderId) => (await ask(shop.port, `/order/${order}`)).text;
  const bought = async (line?: string, price = 4500) => {
    const order = await placeOne(line, String(price));
    const paid = { kind: 'paid', amount: price, way: 'cash', reference: '' } as const;
    await client().tell(order, { key: `till-${order}`, fact: paid });
    return order;
  };
  const linkOf = (order: OrderId) =>
    vi.waitFor(async () => /href="http:\/\/[^/]+(\/handed\/[^"]+)"/.exec(await page(order))![1]!, 5000);
  const waits = 'People look through them before they are handed over';
  const pictures = [1, 2].map(pictureId);

  it('HD6–HD8, OR39: a guessed day is not released by one sign, the same person’s next, or a sign told past its address', async () => {
    const order = await bought();
    await vi.waitFor(async () => expect(await client().waiting()).toMatchObject([{ toCome: 0, signs: { pictures } }]));
    const sign = (by: string) => client().sign(order, { by, pictures, isSecondLook: false });
    for (const by of ['First', ' first ']) expect(await sign(by)).toMatchObject({ kind: 'waits', signedBy: ['first'] });
    const tell = (fact: object) =>
      client().tell(order, { key: `odd-${Object.values(fact).join('-')}`.slice(0, 9), fact: fact as never });
    await expect(tell({ kind: 'signed', by: 'Second', pictures })).rejects.toThrow('fact.kind');
    await expect(tell({ kind: 'handed-over', what: 'zip' })).rejects.toThrow('fact.what');
    const paper = { kind: 'handed-over', what: 'print', picture: pictures[0], bytes: 0 };
    await expect(tell(paper)).rejects.toThrow('Expected a print of this order');
    await expect(client().link(order, null)).rejects.toThrow('looked through');
    expect(await page(order)).toContain(waits);
    expect(await sign('Second')).toEqual({ kind: 'open' });
    await linkOf(order);
    await expect(tell({ kind: 'link-revoked', generation: 2 })).rejects.toThrow('at most number 1 of this order');
  });

  it('HD8: a newer offer counts at once: confirmed since, it goes without signs; a guess again, its link waits', async () => {
    const order = await bought();
    expect(await page(order)).toContain(waits);
    await client().putOffer(withGuess(false));
    const link = await linkOf(order);
    expect((await ask(shop.port, link)).status).toBe(200);
    await client().putOffer(withGuess(true));
    expect((await ask(shop.port, link)).status).toBe(409);
  });

  it('LW1: the licence of a price stands on the page, the order, the files’ names and in the terms beside them', async () => {
    await client().putOffer({ ...offerOfDay, credit: 'Quill', terms: { press: 'Ask {contact}, name {credit}.' } });
    const offered = (await ask(shop.port, `/${MEETING}/picture/${pictureId(1)}`)).text;
    expect(offered).toContain('One picture for the press</bdi> <b>£90.00</b> <span class="quiet">for the press<');
    expect(offered).toContain('Print, 30 × 20 cm</bdi> <b>£15.00</b></span>');
    const order = await bought(`press:picture:${pictureId(1)}:1`, 9000);
    const terms = 'Ask hello@example.org, name Quill.';
    expect(await page(order)).toContain(`<summary>Terms of use for the press</summary><p>${terms}`);
    const zip = (await ask(shop.port, `${await linkOf(order)}/all.zip`)).text;
    for (const said of ['2026-09-19-001-press.jpg', 'terms.txt', terms]) expect(zip).toContain(said);
    expect(zip).not.toContain('For personal use');
  });
});

describe('the data folder', () => {
  it('OR34: is its user’s alone, and keeps its secrets over starts', async () => {
    const first = await openDataFolder(data);
    expect(statSync(data).mode & 0o077).toBe(0);
    for (const file of ['settings.json', 'admin.key']) expect(statSync(join(data, file)).mode & 0o077).toBe(0);
    await again();
    expect((await openDataFolder(data)).settings).toEqual(first.settings);
    const both = join(folder, 'both');
    const [a, b] = await Promise.all([openDataFolder(both), openDataFolder(both)]);
    expect(a.settings.secret).toBe(b.settings.secret);
    expect(a.settings.secret).not.toBe(first.settings.secret);
  });

  it('OR34: settings that are wrong are said by line, without what they hold', async () => {
    const path = join(data, 'settings.json');
    const secret = JSON.parse(readFileSync(path, 'utf8')).secret as string;
    writeFileSync(path, JSON.stringify({ v: 1, secret: `${secret}0` }));
    await expect(openDataFolder(data)).rejects.toThrow('at secret: 64 hex digits');
    await expect(openDataFolder(data)).rejects.not.toThrow(secret);
    writeFileSync(path, JSON.stringify({ v: 1, secret, provider: { key: 'A' } }));
    await expect(openDataFolder(data)).rejects.toThrow('provider.key');
    writeFileSync(path, '{');
    await expect(openDataFolder(data)).rejects.toThrow('Expected JSON');
  });
});

it('says that a connection is kept longer than a proxy keeps it', async () => {
  const { headers } = await fetch(`http://127.0.0.1:${shop.port}/${MEETING}`);
  expect(Number(/timeout=(\d+)/.exec(headers.get('keep-alive') ?? '')?.[1])).toBeGreaterThan(60);
});

it('a price is what the offer says in its own currency, on the page of the service as it runs', async () => {
  const yen = offerOfDay.prices.products.map((one) => ({ ...one, price: minorOf(4500, 'test') }));
  await shop.close();
  shop = await openShop({
    ...wish(),
    offers: [{ ...offerOfDay, prices: { ...offerOfDay.prices, currency: 'JPY', products: yen } }],
  });
  expect((await ask(shop.port, `/${MEETING}`, { headers: { 'accept-language': 'en' } })).text).toContain('¥4,500');
});
