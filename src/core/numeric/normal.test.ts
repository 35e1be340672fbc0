import { describe, expect, it } from 'vitest';
import { normalBelow, normalLoss } from './normal.js';

describe('the normal distribution', () => {
  it('agrees with Abramowitz & Stegun, table 26.1', () => {
    const table = [
      [0, 0.5],
      [0.5, 0.691462461274],
      [1, 0.841344746069],
      [1.96, 0.975002104852],
      [2.5, 0.993790334674],
      [3, 0.998650101968],
    ] as const;
    for (const [u, below] of table) {
      expect(Math.abs(normalBelow(u) - below)).toBeLessThan(1.5e-7);
      expect(Math.abs(normalBelow(-u) - (1 - below))).toBeLessThan(1.5e-7);
    }
  });

  it('loses what lies above: 1/√(2π) at nothing, and L(−u) = u + L(u)', () => {
    expect(normalLoss(0)).toBeCloseTo(0.3989423, 6);
    // Raiffa & Schlaifer's table of the unit normal loss integral: L(0.5), L(1), L(2).
    expect(normalLoss(0.5)).toBeCloseTo(0.1978, 4);
    expect(normalLoss(1)).toBeCloseTo(0.08332, 5);
    expect(normalLoss(2)).toBeCloseTo(0.008491, 5);
    for (const u of [0.3, 1.2, 2.4]) expect(normalLoss(-u)).toBeCloseTo(u + normalLoss(u), 6);
    expect(normalLoss(40)).toBe(0);
  });
});
