import { describe, expect, it } from 'vitest';
import { shareOf } from './wilson.js';

/** "Two-sided confidence intervals for the single proportion: comparison of seven methods", Statistics in Medicine 17 (1998) 857, table I, score method without correction (from memory). */
const PUBLISHED = [
  { k: 81, n: 263, from: 0.2553, to: 0.3662 },
  { k: 15, n: 148, from: 0.0624, to: 0.1605 },
  { k: 0, n: 20, from: 0, to: 0.1611 },
  { k: 1, n: 29, from: 0.0061, to: 0.1718 },
];

/** statsmodels 0.15.0, proportion_confint(k, n, 0.05, 'wilson'), 2026-11-30. */
const SECOND_IMPLEMENTATION = [
  { k: 0, n: 1, from: 0, to: 0.793451 },
  { k: 1, n: 1, from: 0.206549, to: 1 },
  { k: 3, n: 4, from: 0.300642, to: 0.954413 },
  { k: 9, n: 10, from: 0.59585, to: 0.982124 },
  { k: 90, n: 120, from: 0.665589, to: 0.818902 },
  { k: 278, n: 283, from: 0.959315, to: 0.99243 },
];

describe('the range of a share', () => {
  it('PL820: agrees with a second implementation to six places, from one frame to a day of them', () => {
    for (const { k, n, from, to } of SECOND_IMPLEMENTATION) {
      expect(shareOf(k, n)!.from).toBeCloseTo(from, 6);
      expect(shareOf(k, n)!.to).toBeCloseTo(to, 6);
    }
  });

  it('PL820: agrees with the published examples to their four places', () => {
    for (const { k, n, from, to } of PUBLISHED) {
      expect(shareOf(k, n)!.from).toBeCloseTo(from, 4);
      expect(shareOf(k, n)!.to).toBeCloseTo(to, 4);
    }
  });

  it('PL820: of nothing there is no share', () => {
    expect(shareOf(0, 0)).toBeNull();
  });
});
