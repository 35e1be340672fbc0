import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawArc, measuresOf, pointAt, sectorOf, slitsOf, trimmed } from './wheelGeometry.js';

/** End points of the arcs and lines of a path, in order. */
const pointsOf = (path: string): readonly (readonly [number, number])[] =>
  [...path.matchAll(/(?:M|L|A[\d.-]+ [\d.-]+ 0 [01] [01] )(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [
    Number(x),
    Number(y),
  ]);

const plain = { isGuess: false, isSaid: false };

describe('the coverage wheel', () => {
  it('DK30: measures are those of LOOKS at the sizes it names', () => {
    expect(measuresOf(20).thicknessPx).toBeCloseTo(4.3);
    expect(measuresOf(34).thicknessPx).toBeCloseTo(0.19 * 34);
    expect(measuresOf(48).thicknessPx).toBeCloseTo(0.17 * 48);
    expect(measuresOf(132).thicknessPx).toBeCloseTo(0.145 * 132);
    expect([measuresOf(20).gapPx, measuresOf(64).gapPx]).toEqual([1.9, 2.6]);
    expect(measuresOf(132).gapPx).toBeCloseTo(3.96);
    expect(measuresOf(20).slitPitchPx).toBeCloseTo(2.35);
    expect(measuresOf(132).slitPitchPx).toBeCloseTo(0.034 * 132);
  });

  it('DK31: the first arc is centred at twelve and the rest follow clockwise', () => {
    expect(sectorOf(0, 6)).toEqual({ fromDeg: -30, toDeg: 30 });
    expect(sectorOf(1, 4)).toEqual({ fromDeg: 45, toDeg: 135 });
    const [x, y] = pointAt(90, 10);
    expect(x).toBeCloseTo(10);
    expect(y).toBeCloseTo(0);
  });

  it('DK32: arcs share the circle, and neighbours are one gap apart at rim and hub', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 10 }), fc.constantFrom(20, 26, 40, 64, 84, 132), (count, size) => {
        const measures = measuresOf(size);
        for (const radius of [measures.outerPx, measures.outerPx - measures.thicknessPx]) {
          const [a, b] = [0, 1].map((i) => trimmed(sectorOf(i, count), radius, measures.gapPx));
          const [endX, endY] = pointAt(a!.toDeg, radius);
          const [startX, startY] = pointAt(b!.fromDeg, radius);
          expect(Math.hypot(endX - startX, endY - startY)).toBeCloseTo(measures.gapPx, 5);
        }
      }),
    );
  });

  it('DK33: a good arc fills its ring; a guess is half as thick, from the rim inwards', () => {
    const radii = (path: string) => pointsOf(path).map(([x, y]) => Math.hypot(x, y));
    const { thicknessPx, outerPx } = measuresOf(132);
    const sure = radii(drawArc({ state: 'good', ...plain }, 0, 6, 132).path);
    const guess = radii(drawArc({ state: 'good', isGuess: true, isSaid: false }, 0, 6, 132).path);
    expect(Math.max(...sure) - Math.min(...sure)).toBeCloseTo(thicknessPx, 1);
    expect(Math.max(...guess) - Math.min(...guess)).toBeCloseTo(thicknessPx / 2, 1);
    expect(Math.max(...guess)).toBeCloseTo(outerPx, 1);
  });

  it('DK34: slits are equal bars and spaces, three at least, inside their own sector', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10 }), fc.constantFrom(20, 26, 34, 48, 84, 132), (count, size) => {
        const measures = measuresOf(size);
        const sector = sectorOf(0, count);
        const bars = slitsOf(sector, measures);
        expect(bars.length).toBeGreaterThanOrEqual(3);
        expect(bars[0]!.fromDeg).toBeGreaterThanOrEqual(sector.fromDeg);
        expect(bars.at(-1)!.toDeg).toBeLessThanOrEqual(sector.toDeg);
        const widths = bars.map((bar) => bar.toDeg - bar.fromDeg);
        const spaces = bars.slice(1).map((bar, i) => bar.fromDeg - bars[i]!.toDeg);
        for (const width of [...widths, ...spaces]) expect(width).toBeCloseTo(widths[0]!, 6);
      }),
    );
  });

  it('DK35: what is missed is outlined within its ring, what is to come is a line at mid-radius', () => {
    const { outerPx, thicknessPx, outlinePx } = measuresOf(84);
    const missed = pointsOf(drawArc({ state: 'missed', ...plain }, 2, 6, 84).path).map(([x, y]) => Math.hypot(x, y));
    expect(Math.max(...missed)).toBeCloseTo(outerPx - outlinePx / 2, 1);
    expect(Math.min(...missed)).toBeCloseTo(outerPx - thicknessPx + outlinePx / 2, 1);
    const coming = pointsOf(drawArc({ state: 'to-come', ...plain }, 3, 6, 84).path).map(([x, y]) => Math.hypot(x, y));
    for (const radius of coming) expect(radius).toBeCloseTo(outerPx - thicknessPx / 2, 1);
  });

  it('DK36: a person’s word is a spoke on the middle of the arc, pointing at the hub', () => {
    const { spoke } = drawArc({ state: 'good', isGuess: false, isSaid: true }, 0, 6, 132);
    const [from, to] = pointsOf(spoke ?? '');
    expect(from![0]).toBeCloseTo(0, 5);
    expect(to![0]).toBeCloseTo(0, 5);
    expect(Math.abs(to![1])).toBeLessThan(Math.abs(from![1]));
    expect(drawArc({ state: 'good', ...plain }, 0, 6, 132).spoke).toBeNull();
  });

  it('DK37: one spot alone is a ring with one gap, drawn the long way round', () => {
    const { path } = drawArc({ state: 'good', ...plain }, 0, 1, 48);
    expect(path).toMatch(/^M[^A]+A[\d.]+ [\d.]+ 0 1 1 /);
  });
});
