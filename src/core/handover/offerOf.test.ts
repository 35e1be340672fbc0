import { describe, expect, it } from 'vitest';
import { logOf } from '../../../test/builders/arrangement.js';
import { galleryDay } from '../../../test/builders/galleryDay.js';
import { offerSchema, priceListSchema } from '../../shop/service/schemas.js';
import type { Pass } from '../arrange/types.js';
import type { PersonId, RiderId, RiderKey } from '../ids.js';
import type { BikePoint, Decision } from '../log/types.js';
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
  expect(offer.sessions).toEqual(gallery.sessions.map(({ name, riders }) => ({ name, riders })));
  expect(offer.riders.map(({ number }) => number)).toEqual(gallery.riders.map(({ number }) => number?.text));
  expect(offer.riders.map(({ look }) => look)).toEqual(gallery.riders.map(({ look }) => look));
  expect(offer.riders.every((rider) => rider.isJoinedByGuess)).toBe(true);
  expect([offer.credit, offer.terms]).toEqual(['R. Quill', {}]);
  const own = { ...day.about, finalUsageTerms: 'Mine.', licences: { press: 'Ask {contact}.' } };
  expect(offerOf({ ...input, about: own }).terms).toEqual({ personal: 'Mine.', press: 'Ask {contact}.' });
  const text = JSON.stringify(offer);
  for (const { frameId, mainFile, path } of day.arrangement.exposures)
    for (const secret of [frameId, mainFile, path]) expect(text).not.toContain(secret);
});

describe('HD6: whose set is held together by a guess', () => {
  /** Of a day with these decisions, those riders whose sets no guess holds together; `at` points at a rider's n-th pass. */
  const sure = (
    say: (at: (rider: string, n: number) => BikePoint) => readonly Decision[],
    spec = {},
    extra: readonly Pass[] = [],
  ) => {
    const { arrangement } = galleryDay({ about: { r0: { id: 'zero', aliases: ['nil'] } }, ...spec });
    const at = (rider: string, n: number) => {
      const { frameId } = arrangement.passes.filter((pass) => pass.rider === rider)[n]!.bikes[0]!;
      const { mainFile: file } = arrangement.exposures.find((one) => one.frameId === frameId)!;
      return { file, x: 0.5, y: 0.5, box: [0.4, 0.4, 0.2, 0.2], aspect: 1.5 } as const;
    };
    const all = new Set(arrangement.exposures.map(({ frameId }) => frameId));
    const arranged = { ...arrangement, passes: [...arrangement.passes, ...extra] };
    const guessed = joinedByGuess(arranged, logOf(say(at)), () => all);
    return arrangement.riders.map(({ key }) => key).filter((key) => !guessed.has(key));
  };
  const person = 'p' as PersonId;

  it('words that two passes are one rider, a choice among shown ones, a name on both, a settled set: each holds its own', () => {
    expect(sure(() => [])).toEqual([]);
    expect(sure((at) => [{ kind: 'same-rider', points: [at('r1', 0), at('r1', 1)] }])).toEqual(['r1']);
    const lineUp = { kind: 'line-up', chosen: [1], unsure: [0] } as const;
    const shown = (at: (rider: string, n: number) => BikePoint) => [at('r4', 0), at('r2', 1), at('r5', 0)];
    expect(sure((at) => [{ ...lineUp, of: at('r2', 0), shown: shown(at) }])).toEqual(['r2']);
    expect(sure((at) => [0, 1].map((n) => ({ kind: 'rider-is', point: at('r3', n), person }) as const))).toEqual([
      'r3',
    ]);
    const settle = (rider: string) =>
      sure((at) => [{ kind: 'settled', rider: rider as RiderId, files: [0, 1].map((n) => at('r0', n).file) }]);
    expect([settle('nil'), settle('another')]).toEqual([['r0'], []]);
  });
  it('what publishing mints, a number, a name on one of them and a word that parts hold nothing together', () => {
    const both = (at: (rider: string, n: number) => BikePoint) => [at('r1', 0), at('r1', 1)];
    expect(sure((at) => [{ kind: 'rider-minted', rider: 'm' as RiderId, points: both(at) }])).toEqual([]);
    expect(sure((at) => both(at).map((point) => ({ kind: 'rider-is', point, number: '7' }) as const))).toEqual([]);
    expect(sure((at) => [{ kind: 'rider-is', point: at('r1', 0), person }])).toEqual([]);
    expect(sure((at) => [{ kind: 'different-riders', points: [at('r1', 0), at('r2', 0)] }])).toEqual([]);
  });
  it('words that do not meet leave the join between them a guess; a frame of two riders says it of neither', () => {
    const merged = { riders: 2, sameAs: { r1: 'r0' } };
    const said = (pairs: readonly (readonly [number, number])[], extra: readonly Pass[] = []) =>
      sure(
        (at) => pairs.map(([a, b]) => ({ kind: 'same-rider', points: [at('r0', a), at('r0', b)] }) as const),
        merged,
        extra,
      );
    expect(
      said([
        [0, 1],
        [2, 3],
      ]),
    ).toEqual([]);
    expect(
      said([
        [0, 1],
        [2, 3],
        [3, 0],
      ]),
    ).toEqual(['r0']);
    const { passes } = galleryDay(merged).arrangement;
    expect(
      said(
        [
          [0, 1],
          [2, 3],
          [3, 0],
        ],
        [{ ...passes[3]!, rider: 'r9' as RiderKey }],
      ),
    ).toEqual([]);
  });
});
