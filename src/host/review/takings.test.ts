/** Rules OG20, OG22, OG23 of docs/rules/organiser.md, on a meeting with fetched orders. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { galleryDay } from '../../../test/builders/galleryDay.js';
import { minorOf, type OrderLine, type StoredFact, totalsOf } from '../../core/handover/orders/index.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { publicIdsOf } from '../gallery/secret.js';
import { takingsOfMeeting } from './takingsOfMeeting.js';

const SECRET = 'e'.repeat(64);
const publicIdOf = publicIdsOf(SECRET);
const day = galleryDay({ riders: 2, about: { r0: { id: 'id-r0' } } });
const state = { ...day, metadata: new Map<string, FileMetadata>() };
const [first, , third] = day.arrangement.exposures;
const price = minorOf(1200, 'test');
const lines: readonly OrderLine[] = [
  {
    product: 'day',
    name: 'Your whole day',
    asked: { kind: 'day', rider: publicIdOf('rider', 'id-r0'), day: '2026-09-19' },
    quantity: 1,
    unitPrice: price,
    taxRate: 2000,
    licence: 'personal',
    longEdgePx: null,
    pictures: [publicIdOf('frame', first!.frameId), publicIdOf('frame', third!.frameId), 'f'.repeat(32)],
  },
];

function factsOf(meeting: string, order: string): readonly object[] {
  const told = (fact: StoredFact['fact'], seq: number) => ({
    seq,
    order,
    key: `${order}-${seq}`,
    at: 1_790_000_000_000 + seq,
    by: 'provider',
    fact,
  });
  return [
    told(
      {
        kind: 'placed',
        meeting,
        edition: 'e',
        lines,
        totals: totalsOf(lines, { currency: 'EUR', includesTax: true }),
        voucher: null,
        way: 'provider',
        contact: { name: '', mail: '', address: null },
        consent: null,
        language: 'en',
      },
      1,
    ),
    told({ kind: 'paid', amount: price, way: 'provider', reference: 'r' }, 2),
  ];
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-takings-'));
  await mkdir(join(folder, 'people'));
  const facts = [...factsOf(publicIdOf('meeting', day.about.id), 'own'), ...factsOf('0'.repeat(32), 'other')];
  await writeFile(join(folder, 'people', 'orders.json'), JSON.stringify({ v: 1, cursor: 9, facts }));
});
afterAll(() => rm(folder, { recursive: true }));

it('finds spot, session and rider of what was sold by public ids, of this meeting alone', async () => {
  const { takings, left } = await takingsOfMeeting(state, folder, SECRET);
  expect(left).toEqual([]);
  expect(takings).toHaveLength(1);
  const [found] = takings;
  expect(found).toMatchObject({ currency: 'EUR', gross: 1200, tax: 200, orders: 1 });
  expect(found!.byRider).toEqual([{ of: 'N-r0', gross: 1200, refunded: 0, orders: 1 }]);
  expect(Object.fromEntries(found!.bySpot.map(({ of, gross }) => [of ?? 'not known', gross]))).toEqual({
    [first!.spot!]: 400 * (first!.spot === third!.spot ? 2 : 1),
    ...(first!.spot === third!.spot ? {} : { [third!.spot!]: 400 }),
    'not known': 400,
  });
});

it('with nothing published yet the money is there, and where it came from is not known', async () => {
  const { takings } = await takingsOfMeeting(state, folder, null);
  expect(takings[0]!.gross).toBe(2400);
  expect(takings[0]!.bySpot.map(({ of }) => of)).toEqual([null]);
});

it('without fetched orders there is nothing', async () => {
  expect(await takingsOfMeeting(state, join(folder, 'elsewhere'), SECRET)).toEqual({ takings: [], left: [] });
});
