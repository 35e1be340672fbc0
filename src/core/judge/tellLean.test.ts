import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OnGrid } from './onGrid.js';
import { tellLean } from './tellLean.js';

const [COLUMNS, ROWS] = [60, 100];

/** A narrow bike that leans by so much about where it stands, with its helmet on top. */
function leaning(leanDeg: number, helmetRadius = 9): OnGrid {
  const lean = (leanDeg * Math.PI) / 180;
  const across = (cell: number): readonly [number, number] => {
    const [x, y] = [(cell % COLUMNS) + 0.5 - 30, 90 - (Math.floor(cell / COLUMNS) + 0.5)];
    return [x * Math.cos(lean) - y * Math.sin(lean), x * Math.sin(lean) + y * Math.cos(lean)];
  };
  const isHelmet = (cell: number): boolean => {
    const [x, y] = across(cell);
    return x ** 2 + (y - 60) ** 2 < helmetRadius ** 2;
  };
  const isBike = (cell: number): boolean => {
    const [x, y] = across(cell);
    return (Math.abs(x) < 3 + y / 8 && y > 0 && y < 62) || isHelmet(cell);
  };
  return { columns: COLUMNS, rows: ROWS, isBike, isHelmet };
}

describe('lean', () => {
  it('JU19: from where the wheels stand to the helmet, positive towards the right', () => {
    fc.assert(
      fc.property(fc.double({ min: -25, max: 25, noNaN: true }), (leanDeg) => {
        const lean = tellLean(leaning(leanDeg), 1);
        expect(lean.kind).toBe('lean');
        if (lean.kind === 'lean') expect(Math.abs(lean.leanDeg - leanDeg)).toBeLessThan(4);
      }),
    );
  });

  it('JU19: of cells that are wider than high the angle is the picture’s', () => {
    const square = tellLean(leaning(20), 1);
    const wide = tellLean(leaning(20), 0.5);
    if (square.kind !== 'lean' || wide.kind !== 'lean') throw new Error('Expected a lean of both.');
    const tan = (deg: number): number => Math.tan((deg * Math.PI) / 180);
    expect(tan(wide.leanDeg)).toBeCloseTo(tan(square.leanDeg) / 2, 6);
  });

  it('JU19: nothing is said of a bike seen from its side, nor where the helmet is hidden', () => {
    expect(tellLean(leaning(0), 5)).toEqual({ kind: 'absent', reason: 'seen-from-the-side' });
    expect(tellLean(leaning(0, 2), 1)).toEqual({ kind: 'absent', reason: 'no-helmet' });
  });
});
