import { describe, expect, it } from 'vitest';
import { shareOf } from './wilson.js';

/** "Two-sided confidence intervals for the single proportion: comparison of seven methods", Statistics in Medicine 17 (1998) 857, table I, score method without correction (from memory). */
const PUBLISHED = [
  { k: 81, n: 263, from: 0.2553, to: 0.3662 },
  { k: 15, n: 148, from: 0.0624, to: 0.1605 },
  { k: 0, n: 20, from: 0, to: 0.1611 },
  { k: 1, n: 29, from: 0.0061, to: 0.1718 },
];

describe('the range of a share', () => {
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
