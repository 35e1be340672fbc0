import { describe, expect, it } from 'vitest';
import { logOf } from '../../../test/builders/arrangement.js';
import { galleryDay } from '../../../test/builders/galleryDay.js';
import { offerSchema, priceListSchema } from '../../shop/service/schemas.js';
import type { PersonId, RiderId } from '../ids.js';
import type { Decision } from '../log/types.js';
import { joinedByGuess } from './joinedByGuess.js';
import { offerOf } from './offerOf.js';
import { minorOf } from './orders/index.js';
import { planGallery } from './planGallery.js';

const publicIdOf = (_kind: string, what: string) =>
  [...what]
    .reduce((hash, letter) => (hash * 33n + BigInt(letter.charCodeAt(0))) % (1n << 127n), 7n)
    .toString(16)
    .padStart(32, '0');

it('FN32: the offer tells the service public ids, liveries and prices, as the service reads them, and no name', () => {
  const day = galleryDay();
  const { gallery } = planGallery({
    ...day,
    edition: 'first',
    contact: null,
    proofs: new Map(
      [...day.keepers.byRider.values()].flat().map(({ bike }) => [bike.frameId, { widthPx: 9, heightPx: 6 }]),
    ),
    publicIdOf,
    mint: (face) => `minted ${face}` as RiderId,
  });
  const list = priceListSchema.parse({
    seller: { name: 'Quill', lines: [] },
    prices: {
      currency: 'EUR',
      includesTax: true,
      isPaidByOrganiser: false,
      products: [
        { key: 'one', kind: 'picture', name: 'One', price: minorOf(900, 'test'), taxRate: 2000, licence: 'personal' },
      ],
    },
  });
  const input = {
    gallery,
    ...day,
    meeting: publicIdOf('meeting', 'm'),
    address: null,
    seller: { contact: null, ...list.seller },
    prices: list.prices,
    withdrawn: [publicIdOf('frame', 'gone')],
  };
  const offer = offerOf(input);
  expect(offerSchema.parse(offer)).toEqual(offer);
  expect(offer.riders.map((rider) => rider.publicId)).toEqual(gallery.riders.map((rider) => rider.publicId));
  expect(offer.pictures).toHaveLength(
    new Set(gallery.riders.flatMap(({ pictures }) => pictures.map(({ id }) => id))).size,
  );
  expect(offer.pictures[0]!.day).toBe('2026-09-19');
  expect(offer.riders.every((rider) => rider.isJoinedByGuess)).toBe(true);
  expect([offer.credit, offer.terms]).toEqual(['R. Quill', {}]);
  const own = { ...day.about, finalUsageTerms: 'Mine.', licences: { press: 'Ask {contact}.' } };
  expect(offerOf({ ...input, about: own }).terms).toEqual({ personal: 'Mine.', press: 'Ask {contact}.' });
  const text = JSON.stringify(offer);
  for (const { frameId, mainFile, path } of day.arrangement.exposures)
    for (const secret of [frameId, mainFile, path]) expect(text).not.toContain(secret);
});

describe('HD6: whose set is held together by a guess', () => {
  const day = galleryDay({ about: { r0: { id: 'zero', aliases: ['nil'] } } });
  const { arrangement } = day;
  /** Of a rider's n-th pass one point. */
  const at = (rider: string, n: number, frame = 0) => {
    const pass = arrangement.passes[arrangement.riders.find(({ key }) => key === rider)!.passes[n]!]!;
    const { frameId } = pass.bikes[frame]!;
    const file = arrangement.exposures.find((one) => one.frameId === frameId)!.mainFile;
    return { file, x: 0.5, y: 0.5, box: [0.4, 0.4, 0.2, 0.2], aspect: 1.5 } as const;
  };
  const all = new Set(arrangement.exposures.map(({ frameId }) => frameId));
  const sure = (
    decisions: readonly Decision[],
    shown: ReadonlySet<(typeof arrangement.exposures)[0]['frameId']> = all,
  ) =>
    arrangement.riders
      .map(({ key }) => key)
      .filter((key) => !joinedByGuess(arrangement, logOf(decisions), () => shown).has(key));
  const one = { kind: 'same-rider', points: [at('r1', 0, 1), at('r1', 1)] } as const;

  it('is all of them until somebody says so; one pass alone is joined to nothing', () => {
    expect(sure([])).toEqual([]);
    const first = arrangement.passes[0]!;
    expect(sure([], new Set(first.bikes.map(({ frameId }) => frameId)))).toContain(first.rider);
  });
  it('a word that two passes are one rider, a choice among shown ones, a name on both, a settled set: each holds its own', () => {
    expect(sure([one])).toEqual(['r1']);
    const shown = [at('r4', 0), at('r2', 1), at('r5', 0)];
    expect(sure([{ kind: 'line-up', of: at('r2', 0), shown, chosen: [1], unsure: [0] }])).toEqual(['r2']);
    const named = [0, 1].map((n): Decision => ({ kind: 'rider-is', point: at('r3', n), person: 'p' as PersonId }));
    expect(sure(named)).toEqual(['r3']);
    expect(sure(named.slice(1))).toEqual([]);
    const files = [at('r0', 0).file, at('r0', 1).file];
    expect(sure([{ kind: 'settled', rider: 'nil' as RiderId, files }])).toEqual(['r0']);
    expect(sure([{ kind: 'settled', rider: 'another' as RiderId, files }])).toEqual([]);
  });
  it('what publishing mints, a number, and a word that parts hold nothing together', () => {
    const points = [at('r1', 0), at('r1', 1)];
    expect(sure([{ kind: 'rider-minted', rider: 'm' as RiderId, points }])).toEqual([]);
    expect(sure(points.map((point): Decision => ({ kind: 'rider-is', point, number: '7' })))).toEqual([]);
    expect(sure([{ kind: 'different-riders', points: [at('r1', 0), at('r2', 0)] }])).toEqual([]);
  });
  it('words that do not meet leave the join between them a guess; a frame of two riders says it of neither', () => {
    const merged = galleryDay({ riders: 2, sameAs: { r1: 'r0' } });
    const pass = (n: number) => merged.arrangement.passes.filter(({ rider }) => rider === 'r0')[n]!.bikes[0]!.frameId;
    const point = (n: number) => {
      const { mainFile: file } = merged.arrangement.exposures.find(({ frameId }) => frameId === pass(n))!;
      return { ...at('r0', 0), file };
    };
    const of = (pairs: readonly (readonly [number, number])[], arranged = merged.arrangement) =>
      joinedByGuess(
        arranged,
        logOf(pairs.map(([a, b]): Decision => ({ kind: 'same-rider', points: [point(a), point(b)] }))),
        () => new Set(arranged.exposures.map(({ frameId }) => frameId)),
      ).has(merged.arrangement.riders[0]!.key);
    expect(
      of([
        [0, 1],
        [2, 3],
      ]),
    ).toBe(true);
    expect(
      of([
        [0, 1],
        [2, 3],
        [3, 0],
      ]),
    ).toBe(false);
    const guest = { ...merged.arrangement.passes[0]!, rider: 'r9' as never, bikes: [{ frameId: pass(3), subject: 1 }] };
    const shared = { ...merged.arrangement, passes: [...merged.arrangement.passes, guest] };
    expect(
      of(
        [
          [0, 1],
          [2, 3],
          [3, 0],
        ],
        shared,
      ),
    ).toBe(true);
  });
});
