import fc from 'fast-check';
import { expect, it } from 'vitest';
import { cheapestSegments } from './dynamicProgramming.js';

interface Case {
  /** Price of a segment by its ends and label. */
  readonly price: readonly (readonly (readonly number[])[])[];
  /** Price of one label after another. */
  readonly step: readonly (readonly number[])[];
}

const CUTS = 5;
const LABELS = 3;
const numbers = (count: number): fc.Arbitrary<number[]> =>
  fc.array(fc.integer({ min: -9, max: 9 }), { minLength: count, maxLength: count });
const someCase: fc.Arbitrary<Case> = fc.record({
  price: fc.array(fc.array(numbers(LABELS), { minLength: CUTS, maxLength: CUTS }), {
    minLength: CUTS,
    maxLength: CUTS,
  }),
  step: fc.array(numbers(LABELS), { minLength: LABELS, maxLength: LABELS }),
});

it('finds what trying every segmentation finds', () => {
  fc.assert(
    fc.property(someCase, (given) => {
      const found = cheapestSegments<number, number>({
        cuts: CUTS,
        start: 0,
        furthest: () => CUTS - 1,
        extensions: (from, to) => (before) =>
          given.price[from]![to]!.map((price, label) => ({
            state: label,
            label,
            cost: price + given.step[before]![label]!,
          })),
        key: (state) => state,
        beam: LABELS,
      });
      expect(found?.cost).toBe(cheapestByTrying(given, 0, 0));
    }),
  );
});

function cheapestByTrying(given: Case, from: number, before: number): number {
  if (from === CUTS - 1) return 0;
  let best = Number.POSITIVE_INFINITY;
  for (let to = from + 1; to < CUTS; to++)
    for (let label = 0; label < LABELS; label++) {
      const cost = given.price[from]![to]![label]! + given.step[before]![label]!;
      best = Math.min(best, cost + cheapestByTrying(given, to, label));
    }
  return best;
}

it('says so when every way is forbidden', () => {
  const found = cheapestSegments<null, null>({
    cuts: 3,
    start: null,
    furthest: () => 2,
    extensions: () => () => [{ state: null, label: null, cost: Number.POSITIVE_INFINITY }],
    key: () => 0,
    beam: 4,
  });
  expect(found).toBeNull();
});
