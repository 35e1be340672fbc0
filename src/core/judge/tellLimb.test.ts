import { expect, it } from 'vitest';
import type { OnGrid } from './onGrid.js';
import { tellLimb } from './tellLimb.js';

const [COLUMNS, ROWS] = [100, 100];

interface Rider {
  /** Positive towards the right of the picture. */
  readonly leanDeg: number;
  /** How far the elbow lies beside the trunk, in cells; 0: held in. */
  readonly elbow: number;
  /** Wheels this far apart, in cells. */
  readonly wheels?: number;
  readonly isWorn?: boolean;
}

/** A bike seen end on, its rider on top, drawn about the point where it stands. */
function drawn({ leanDeg, elbow, wheels = 0, isWorn = true }: Rider): OnGrid & { worn: (cell: number) => number } {
  const lean = (leanDeg * Math.PI) / 180;
  const side = Math.sign(leanDeg) || 1;
  const along = (cell: number): readonly [number, number] => {
    const [x, y] = [(cell % COLUMNS) + 0.5 - 50, 95 - (Math.floor(cell / COLUMNS) + 0.5)];
    return [x * Math.cos(lean) - y * Math.sin(lean), x * Math.sin(lean) + y * Math.cos(lean)];
  };
  const isHelmet = (cell: number): boolean => {
    const [x, y] = along(cell);
    return x ** 2 + (y - 72) ** 2 < 81;
  };
  const isElbow = (cell: number): boolean => {
    const [x, y] = along(cell);
    return Math.abs(y - 54) < 4 && side * x > 0 && side * x < 9 + elbow;
  };
  const isBike = (cell: number): boolean => {
    const [x, y] = along(cell);
    const isWheel = Math.abs(x) < 4 + wheels && y > 0 && y < 26;
    return isWheel || (Math.abs(x) < 9 && y > 20 && y < 68) || isElbow(cell) || isHelmet(cell);
  };
  return { columns: COLUMNS, rows: ROWS, isBike, isHelmet, worn: (cell) => (isWorn && isElbow(cell) ? 1 : 0) };
}

it('JU21: a limb that steps out of the outline on the inside of the turn is told, with where it is', () => {
  for (const leanDeg of [-30, 30]) {
    const told = tellLimb(drawn({ leanDeg, elbow: 14 }), 1);
    expect(told.kind).toBe('out');
    if (told.kind !== 'out') continue;
    const middle = told.where[0] + told.where[2] / 2;
    expect(Math.sign(middle - 0.5)).toBe(Math.sign(leanDeg));
    expect(told.where[1]).toBeGreaterThan(0.2);
    expect(told.where[1] + told.where[3]).toBeLessThan(0.75);
  }
});

it('JU21: held in, upright, from the side, or where what sticks out is not worn, nothing is said', () => {
  const reasons = [
    drawn({ leanDeg: 30, elbow: 0 }),
    drawn({ leanDeg: 5, elbow: 14 }),
    drawn({ leanDeg: 30, elbow: 14, wheels: 40 }),
    drawn({ leanDeg: 30, elbow: 14, isWorn: false }),
  ].map((rider) => tellLimb(rider, 1));
  expect(reasons).toEqual(
    ['nothing-sticks-out', 'upright', 'seen-from-the-side', 'nothing-sticks-out'].map((reason) => ({
      kind: 'absent',
      reason,
    })),
  );
});
