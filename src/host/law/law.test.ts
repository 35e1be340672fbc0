import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { galleryDay } from '../../../test/builders/galleryDay.js';
import { namesOf } from '../../core/finish/index.js';
import { isWhole, planTakeDown } from '../../core/handover/law/index.js';
import {
  type FactKey,
  type Offer,
  type OrderId,
  type OrderState,
  type StoredFact,
  stateOf,
} from '../../core/handover/orders/index.js';
import type { GestureId, PersonId, RiderId } from '../../core/ids.js';
import { epochMsOf } from '../../core/units.js';
import { publicIdsOf } from '../gallery/secret.js';
import { openPeople } from '../meeting/people.js';
import { csvText } from '../organiser/index.js';
import { downBy } from './down.js';
import { erasePerson } from './erasePerson.js';
import { exportPerson } from './exportPerson.js';
import { keepAsSaid, lookAtKept, sayRetention } from './keepUntil.js';
import { cachePlaces, placesInMade } from './placesHere.js';
import { type ShopToTell, shopPlace, unreachedShop } from './placesOutside.js';
import { proofsOf, takeDownAt } from './takeDownEverywhere.js';

const idOf = publicIdsOf('5'.repeat(64));
const NAMED = { r1: { id: '00000000-0000-8000-8000-000000000001' } };
const BEFORE = galleryDay({ riders: 4, about: NAMED });
const rider = BEFORE.arrangement.riders.find(({ id }) => id !== null)!;
const plan = planTakeDown({ kind: 'rider', rider: rider.key }, { ...BEFORE, mint: () => 'none' as RiderId });
const AFTER = galleryDay({ riders: 4, about: NAMED, decisions: plan.decisions });
/** The builder says each decision in a gesture of its own; here they are one. */
const gesture = 'one-request' as GestureId;
const state = {
  ...AFTER,
  log: {
    ...AFTER.log,
    inForce: AFTER.log.inForce.map((one) => ({ ...one, line: { ...one.line, gesture } })),
  },
};
const own = plan.frames[0]!;
const other = state.arrangement.exposures.find(({ frameId }) => !plan.frames.includes(frameId))!.frameId;
const names = namesOf(state.arrangement.exposures);
const sha = (text: string): string => createHash('sha256').update(text).digest('hex');

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-law-'));
});
afterEach(() => rm(folder, { recursive: true }));

async function lay(path: string, text = path): Promise<void> {
  await mkdir(dirname(join(folder, path)), { recursive: true });
  await writeFile(join(folder, path), text);
}
const lies = (path: string): boolean => existsSync(join(folder, path));

const page = (frame: typeof own) => `made/gallery/day-1/proof/${idOf('frame', frame)}.jpg`;
async function layAll(): Promise<{ readonly down: readonly string[]; readonly stays: readonly string[] }> {
  const both = (of: (frame: typeof own) => string) => [of(own), of(other)] as const;
  const pairs = [
    both(page),
    both((frame) => `made/gallery/day-1/small/${idOf('frame', frame)}-640.avif`),
    both((frame) => `made/gallery/day-1/face/${idOf('face', frame)}.webp`),
    both((frame) => `made/proofs/${frame}-0123456789abcdef.jpg`),
    both((frame) => `made/finals/${names.get(frame)}.jpg`),
    both((frame) => `made/finals/${names.get(frame)}-4x5.jpg`),
    both((frame) => `made/organiser/finals/${names.get(frame)}.jpg`),
    both((frame) => `made/organiser/set/pictures/01-${names.get(frame)}.jpg`),
    both((frame) => `made/organiser/set/small/01-${names.get(frame)}.jpg`),
    both((frame) => `made/put-up/first/day-1/rider/${idOf('frame', frame)}.html`),
    both((frame) => `state/crops/${frame}/1-2-3-4.jpg`),
    both((frame) => `state/pictures/${frame}.jpg`),
  ];
  for (const path of pairs.flat()) await lay(path);
  const ridersPage = `made/gallery/day-1/de/rider/${idOf('rider', rider.id!)}.html`;
  await lay(ridersPage);
  await lay('made/gallery/day-1/index.html', `top\n<a>${idOf('frame', own)}</a>\n<a>${idOf('frame', other)}</a>\n`);
  await lay('cards/a1/DCIM/100INVEN/ONE.JPG');
  return {
    down: [...pairs.map(([path]) => path), ridersPage],
    stays: [...pairs.map(([, path]) => path), 'cards/a1/DCIM/100INVEN/ONE.JPG', 'made/gallery/day-1/index.html'],
  };
}

const placesHere = async () => [
  ...(await placesInMade(folder, state.arrangement.exposures)),
  ...cachePlaces(join(folder, 'state')),
];
const run = async (places: Awaited<ReturnType<typeof placesHere>>, now = 1000) =>
  takeDownAt({
    meetingFolder: folder,
    meeting: 'Ebbstone',
    gesture,
    asked: 'rider',
    down: downBy(gesture, state, idOf),
    places,
    now: () => now,
  });

describe('LW10: one request', () => {
  it('removes every file that shows it, on this disk, and nothing else', async () => {
    const { down, stays } = await layAll();
    await run(await placesHere());
    expect(down.filter(lies)).toEqual([]);
    expect(stays.filter((path) => !lies(path))).toEqual([]);
    const index = await readFile(join(folder, 'made/gallery/day-1/index.html'), 'utf8');
    expect(index).toBe(`top\n<a>${idOf('frame', other)}</a>\n`);
  });

  it('LW11: proves each file with its hash as it was, and holds no frame id and no name', async () => {
    const { down } = await layAll();
    const { proof, path } = await run(await placesHere());
    const text = await readFile(path, 'utf8');
    for (const removed of down) expect(text, removed).toContain(sha(removed));
    for (const frame of plan.frames) expect(text).not.toContain(frame);
    expect(text).not.toContain(names.get(own)!);
    expect(isWhole(proof)).toBe(true);
    expect(await proofsOf(folder)).toEqual([proof]);
  });

  it('says that a sheet somebody made beside it may still show it, until it is gone or newer than the request', async () => {
    await layAll();
    await lay('made/finals/all.zip');
    const { proof } = await run(await placesHere());
    expect(proof.places.filter(({ standing }) => standing === 'pending')).toMatchObject([
      { place: 'made/finals', sentence: expect.stringContaining('all.zip') },
    ]);
    await utimes(join(folder, 'made/finals/all.zip'), 0.5, 0.5);
    expect(isWhole((await run(await placesHere(), 1500)).proof)).toBe(false);
    await utimes(join(folder, 'made/finals/all.zip'), 1.5, 1.5);
    const again = await run(await placesHere(), 2000);
    expect(isWhole(again.proof)).toBe(true);
    expect([again.proof.saidAt, again.proof.provedAt]).toEqual([1000, 2000]);
    expect(again.proof.places.find(({ place }) => place === 'made/finals')?.removed).toHaveLength(2);
  });

  it('takes it out of the papers of a set that was handed over, and of the offer beside the edition', async () => {
    await layAll();
    const set = 'made/organiser/set';
    const files = [own, other].map((frame) => `01-${names.get(frame)}.jpg`);
    await lay(`${set}/contact-sheet.pdf`);
    await lay(
      `${set}/captions.csv`,
      csvText(
        ['no', 'file', 'caption'],
        files.map((text) => [{ number: '1' }, { text }, { text: 'Two\nlines, "said"' }]),
      ),
    );
    await lay(`${set}/share.json`, JSON.stringify({ id: 'x', pictures: files.map((file) => ({ file })) }));
    await lay('made/gallery/day-1.offer.json', JSON.stringify(offer));
    const { proof } = await run(await placesHere());
    expect(isWhole(proof)).toBe(true);
    expect(lies(`${set}/contact-sheet.pdf`)).toBe(false);
    const read = (path: string) => readFile(join(folder, path), 'utf8');
    expect(await read(`${set}/captions.csv`)).toBe(
      csvText(['no', 'file', 'caption'], [[{ number: '1' }, { text: files[1]! }, { text: 'Two\nlines, "said"' }]]),
    );
    expect(JSON.parse(await read(`${set}/share.json`))).toEqual({ id: 'x', pictures: [{ file: files[1] }] });
    expect(JSON.parse(await read('made/gallery/day-1.offer.json')).withdrawn).toContain(idOf('frame', own));
  });

  it('does not take down what another request did, and nothing once it was taken back', () => {
    expect(downBy('another' as GestureId, state, idOf).ids.size).toBe(0);
    const down = downBy(gesture, state, idOf);
    expect([...down.frames.keys()].sort()).toEqual([...plan.frames].sort());
  });
});

const picture = (frame: typeof own) => idOf('frame', frame);
const offer: Offer = {
  v: 1,
  meeting: idOf('meeting', 'm'),
  edition: 'day-1',
  title: 'Ebbstone',
  firstDay: '2026-09-19',
  lastDay: '2026-09-19',
  gallery: null,
  seller: { name: 'R. Quill', contact: null, lines: [] },
  prices: { currency: 'EUR', includesTax: true, products: [], isPaidByOrganiser: false },
  pictures: [own, other].map((frame) => ({ id: picture(frame), day: null })),
  riders: [],
  withdrawn: ['f'.repeat(32)],
};
const placed = (order: string, frames: readonly (typeof own)[], mail = 'a@example.org', at = 0): StoredFact => ({
  order: order as OrderId,
  key: `placed ${order}` as FactKey,
  at: epochMsOf(at),
  by: 'buyer',
  fact: {
    kind: 'placed',
    meeting: offer.meeting,
    edition: 'day-1',
    lines: [{ pictures: frames.map(picture), asked: { kind: 'picture' } }] as never,
    totals: { toPay: 0 } as never,
    voucher: null,
    way: 'cash',
    contact: { name: 'A', mail, address: null },
    consent: null,
    language: 'en',
  },
});

/** The service in memory: offers replaced, facts kept once by key, as OR6 says. */
function smallShop(facts: StoredFact[]): ShopToTell & { offer: Offer; state(order: string): OrderState } {
  const shop = {
    offer,
    offers: async () => [shop.offer],
    putOffer: async (next: Offer) => {
      shop.offer = next;
    },
    orders: async () => [...new Set(facts.map(({ order }) => order))].map((order) => ({ state: shop.state(order) })),
    tell: async (order: OrderId, { key, fact }: Parameters<ShopToTell['tell']>[1]) => {
      facts.push({ order, key: `hand ${key}` as FactKey, at: epochMsOf(1), by: 'photographer', fact });
    },
    removeFinals: async () => [],
    removeShared: async () => [],
    state: (order: string) =>
      stateOf(
        order as OrderId,
        facts.filter((one) => one.order === order),
      ),
  };
  return shop;
}

describe('LW10: the order service', () => {
  it('offers it no more, and no order gives it, told twice as once', async () => {
    const shop = smallShop([placed('one', [own, other]), placed('two', [other])]);
    const places = [shopPlace(shop, offer.meeting, gesture)];
    const { proof } = await run(places);
    expect(shop.offer.withdrawn).toEqual(expect.arrayContaining([picture(own), 'f'.repeat(32)]));
    expect(shop.state('one').pictures).toEqual([picture(other)]);
    expect(shop.state('two').pictures).toEqual([picture(other)]);
    expect(proof.places[0]!.removed).toHaveLength(2);
    const again = await run(places);
    expect(again.proof.places[0]!.removed).toHaveLength(2);
  });

  it('not reached it stays pending, and is cleared by the next run', async () => {
    const first = await run([unreachedShop('Nothing answered.')]);
    expect(first.proof.places).toMatchObject([{ standing: 'pending', sentence: 'Nothing answered.' }]);
    const broken: ShopToTell = { ...smallShop([]), offers: () => Promise.reject(new Error('Cut off.')) };
    const second = await run([shopPlace(broken, offer.meeting, gesture)]);
    expect(second.proof.places).toMatchObject([{ standing: 'pending', sentence: 'Cut off.' }]);
    const third = await run([shopPlace(smallShop([placed('one', [own])]), offer.meeting, gesture)]);
    expect(isWhole(third.proof)).toBe(true);
  });
});

describe('LW12: keeping', () => {
  const DAY = 86_400_000;
  const lastDay = Date.parse('2026-09-19T00:00:00Z');
  const meetingAt = async (now: number, orders: readonly StoredFact[] = []) => ({
    folder,
    stateFolder: join(folder, 'state'),
    about: { lastDay: '2026-09-19', keepDays: { proofs: 30, contacts: 30, 'order-contacts': 30 } },
    people: await openPeople(join(folder, 'people'), { now: () => 0 }),
    orders,
    now: () => now,
  });
  it('says a week before, then deletes by itself; originals and what was not said stay', async () => {
    await layAll();
    const people = await openPeople(join(folder, 'people'), { now: () => 0 });
    await people.write({ id: 'p1' as PersonId, name: 'A Rider' });
    const early = await keepAsSaid(await meetingAt(lastDay + 10 * DAY));
    expect(early.plans.every(({ standing }) => standing === 'kept')).toBe(true);
    expect((await keepAsSaid(await meetingAt(lastDay + 25 * DAY))).gone).toEqual({});
    expect((await keepAsSaid(await meetingAt(lastDay + 31 * DAY))).gone).toEqual({});
    const late = await keepAsSaid(await meetingAt(lastDay + 32 * DAY));
    expect(late.gone).toEqual({ proofs: 2, contacts: 1 });
    expect(lies('made/proofs')).toBe(false);
    expect(lies('people/p1.json')).toBe(false);
    expect(lies('people/p1.erased.json')).toBe(true);
    expect(lies('cards/a1/DCIM/100INVEN/ONE.JPG')).toBe(true);
    expect((await readdir(join(folder, 'made/finals'))).length).toBe(4);
    expect((await keepAsSaid(await meetingAt(lastDay + 32 * DAY))).gone).toEqual({});
  });
  it('LW14: stopped nothing goes, and going on says it for a week anew', async () => {
    await lay('made/proofs/one.jpg');
    await keepAsSaid(await meetingAt(lastDay + 25 * DAY));
    await sayRetention(folder, true);
    expect((await keepAsSaid(await meetingAt(lastDay + 90 * DAY))).gone).toEqual({});
    await sayRetention(folder, false);
    expect((await keepAsSaid(await meetingAt(lastDay + 90 * DAY))).gone).toEqual({});
    expect((await keepAsSaid(await meetingAt(lastDay + 97 * DAY))).gone).toEqual({ proofs: 1 });
  });
  it('a look changes nothing', async () => {
    await lay('made/proofs/one.jpg');
    const plans = await lookAtKept(await meetingAt(lastDay + 900 * DAY));
    expect(plans).toMatchObject([{ kind: 'proofs', standing: 'to-be-said' }]);
    expect(lies('made/kept.json')).toBe(false);
  });
  it('contacts of orders go order by order, and are named until the service has let go', async () => {
    const orders = [placed('old', [own], 'a@example.org', 0), placed('new', [own], 'b@example.org', 60 * DAY)];
    await keepAsSaid(await meetingAt(25 * DAY, orders));
    const due = await keepAsSaid(await meetingAt(33 * DAY, orders));
    expect(due.orders).toEqual(['old']);
    expect((await keepAsSaid(await meetingAt(34 * DAY, orders))).orders).toEqual(['old']);
  });
});

describe('LW12: what lies elsewhere, and what went to the organiser', () => {
  const DAY = 86_400_000;
  const lastDay = Date.parse('2026-09-19T00:00:00Z');
  const meetingAt = async (now: number, orders: readonly StoredFact[] = []) => ({
    folder,
    stateFolder: join(folder, 'state'),
    about: { lastDay: '2026-09-19', keepDays: { organiser: 30, links: 30, 'put-up': 30 } },
    people: await openPeople(join(folder, 'people'), { now: () => 0 }),
    orders,
    now: () => now,
  });
  const linked = (order: string, kind: 'link-made' | 'link-revoked', at: number): StoredFact => ({
    ...placed(order, [own]),
    key: `${kind} ${order}` as FactKey,
    at: epochMsOf(at),
    by: 'service',
    fact: kind === 'link-made' ? { kind, generation: 1, expiresAt: epochMsOf(at + DAY) } : { kind, generation: 1 },
  });

  it('pictures for the organiser go, and what went to whom stays known', async () => {
    await layAll();
    await lay('made/organiser/handed.json', '{"v":1,"handed":[]}');
    await keepAsSaid(await meetingAt(lastDay + 25 * DAY));
    expect((await keepAsSaid(await meetingAt(lastDay + 33 * DAY))).gone).toEqual({ organiser: 6 });
    expect(await readdir(join(folder, 'made/organiser'))).toEqual(['handed.json']);
    expect((await keepAsSaid(await meetingAt(lastDay + 34 * DAY))).gone).toEqual({});
  });

  it('links and places are named until they were let go of', async () => {
    const orders = [placed('old', [own], '', lastDay), linked('old', 'link-made', lastDay)];
    const standing = {
      v: 1,
      edition: 'day-1',
      at: '2026-09-19T20:00:00Z',
      files: 9,
      bytes: 90,
      pending: null,
      failed: null,
    };
    await lay('made/put-up/web.json', JSON.stringify(standing));
    await keepAsSaid(await meetingAt(lastDay + 25 * DAY, orders));
    const due = { links: ['old'], places: ['web'], gone: {} };
    expect(await keepAsSaid(await meetingAt(lastDay + 33 * DAY, orders))).toMatchObject(due);
    expect(await keepAsSaid(await meetingAt(lastDay + 34 * DAY, orders))).toMatchObject(due);
    await lay('made/put-up/web.json', JSON.stringify({ ...standing, edition: null, at: null, files: 0, bytes: 0 }));
    const done = await meetingAt(lastDay + 35 * DAY, [...orders, linked('old', 'link-revoked', lastDay)]);
    expect(await keepAsSaid(done)).toMatchObject({ links: [], places: [] });
  });
});

describe('LW19, LW20: what a person may ask for', () => {
  const person = 'p1' as PersonId;
  const withPerson = galleryDay({
    riders: 4,
    about: NAMED,
    decisions: [
      {
        kind: 'rider-is',
        point: { file: BEFORE.arrangement.exposures.find(({ frameId }) => frameId === own)!.mainFile, x: 0.5, y: 0.5 },
        person,
      },
    ],
  });

  it('LW19: pictures, data and a page, with what others wrote escaped', async () => {
    const people = await openPeople(join(folder, 'people'), { now: () => 0 });
    await people.write({
      id: person,
      name: '<script>A</script>',
      contact: 'A@example.org',
      wants: { N: '12 pictures' },
    });
    await lay('one.JPG', 'bytes');
    const exported = await exportPerson({
      of: { kind: 'person', person },
      to: join(folder, 'out'),
      state: withPerson,
      people,
      orders: [placed('one', [own]), placed('two', [own], 'b@example.org')],
      originalOf: (frame) => (frame === own ? join(folder, 'one.JPG') : null),
      idOf,
    });
    expect(exported).toMatchObject({ pictures: 1, shared: 0 });
    expect(exported.missing).toHaveLength(plan.frames.length - 1);
    expect(await readFile(join(folder, 'out/pictures', `${names.get(own)}.jpg`), 'utf8')).toBe('bytes');
    const html = await readFile(join(folder, 'out/index.html'), 'utf8');
    expect(html).toContain('&lt;script&gt;A');
    expect(html).not.toContain('<script>');
    expect(html).toContain('12 pictures');
    const data = JSON.parse(await readFile(join(folder, 'out/data.json'), 'utf8'));
    expect(data.person.contact).toBe('A@example.org');
    expect(data.orders.map(({ order }: { order: string }) => order)).toEqual(['one']);
    expect(data.pictures).toHaveLength(plan.frames.length);
    expect(data.pictures[0].measured).toHaveLength(1);
    expect(data.said).toMatchObject([{ kind: 'rider-is' }]);
    await expect(
      exportPerson({
        of: { kind: 'person', person },
        to: join(folder, 'out'),
        state: withPerson,
        people,
        orders: [],
        originalOf: () => null,
        idOf,
      }),
    ).rejects.toThrow(/Expected an empty or new folder/);
  });

  it('LW20: erased at once with a tombstone; orders keep the contact as long as tax law wants, and no longer', async () => {
    const people = await openPeople(join(folder, 'people'), { now: () => 0 });
    await people.write({ id: person, name: 'A', contact: ' A@Example.org' });
    const DAY = 86_400_000;
    const orders = [
      placed('old', [own], 'a@example.org', 0),
      placed('new', [own], 'a@example.org', 50 * DAY),
      placed('hers', [own], 'c@example.org'),
    ];
    const report = await erasePerson(person, people, orders, { keepOrderDays: 40, now: 60 * DAY });
    expect(report).toEqual({ wasKnown: true, orders: ['old'], keptUntil: [{ order: 'new', until: 90 * DAY }] });
    const again = await openPeople(join(folder, 'people'));
    expect([again.get(person), again.isErased(person)]).toEqual([undefined, true]);
  });
});
