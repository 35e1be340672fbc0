import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { theilSen } from './theilSen.js';

/** The worked example of Sen (1968), p. 1380 ff., with its 93 of 100 (z = 1.812). */
const SEN_1968 = [
  [1, 9],
  [2, 15],
  [3, 19],
  [4, 20],
  [10, 45],
  [12, 55],
  [18, 78],
].map(([x, y]) => ({ x: x!, y: y! }));
const Z_93 = 1.811911;

describe('a slope by the median of pairs', () => {
  it('gives the slope of the example its method was published with, and the limits as two later programs mend them', () => {
    // 26/7 and 35/8: scipy's and R deming's own tests of this example; the paper's list of slopes has a slip.
    const trend = theilSen([SEN_1968], Z_93)!;
    expect(trend.slope).toBe(4);
    expect(trend.from).toBeCloseTo(26 / 7, 10);
    expect(trend.to).toBeCloseTo(35 / 8, 10);
  });

  it('is not bent by a stray, and strata of different height do not make a slope', () => {
    const line = Array.from({ length: 20 }, (_, x) => ({ x, y: 3 - 0.5 * x }));
    expect(theilSen([line.map((point) => (point.x === 7 ? { x: 7, y: 900 } : point))])!.slope).toBeCloseTo(-0.5, 10);
    const early = line.slice(0, 10).map(({ x }) => ({ x, y: 0 }));
    const late = line.slice(10).map(({ x }) => ({ x, y: 50 }));
    expect(theilSen([early, late])).toMatchObject({ slope: 0, points: 20 });
  });

  it('has no slope where nothing can be compared', () => {
    expect(theilSen([])).toBeNull();
    expect(theilSen([[{ x: 1, y: 1 }], [{ x: 2, y: 2 }]])).toBeNull();
    expect(
      theilSen([
        [
          { x: 1, y: 1 },
          { x: 1, y: 2 },
        ],
      ]),
    ).toBeNull();
  });

  it('moves with the values: a line added to them is added to slope and limits', () => {
    const points = fc.array(fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: -99, max: 99 })), {
      minLength: 3,
      maxLength: 40,
    });
    fc.assert(
      fc.property(points, fc.integer({ min: -5, max: 5 }), (pairs, added) => {
        const plain = theilSen([pairs.map(([x, y]) => ({ x, y }))]);
        const tilted = theilSen([pairs.map(([x, y]) => ({ x, y: y + added * x }))]);
        if (plain === null || tilted === null) return expect(tilted).toBe(plain);
        expect(tilted.slope).toBeCloseTo(plain.slope + added, 8);
        expect(plain.from).toBeLessThanOrEqual(plain.slope);
        expect(plain.to).toBeGreaterThanOrEqual(plain.slope);
      }),
    );
  });
});
