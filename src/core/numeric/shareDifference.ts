/**
 * The range of a difference between two shares.
 *
 * Source: R. G. Newcombe, "Interval estimation for the difference between independent proportions: comparison of eleven methods",
 * Statistics in Medicine 17 (1998) 873–890, method 10: from both shares' own ranges, without continuity correction.
 */
import type { Share } from './wilson.js';

export interface Difference {
  readonly difference: number;
  readonly from: number;
  readonly to: number;
}

/** `a` less `b`. */
export function differenceOf(a: Share, b: Share): Difference {
  const difference = a.share - b.share;
  return {
    difference,
    from: difference - Math.hypot(a.share - a.from, b.to - b.share),
    to: difference + Math.hypot(a.to - a.share, b.share - b.from),
  };
}

/** Whether nought lies outside: the two differ by more than chance would have it in 19 of 20 comparisons. */
export const isApart = ({ from, to }: Difference): boolean => from > 0 || to < 0;
