/**
 * The score interval of a share seen k times in n.
 *
 * Source: E. B. Wilson, "Probable inference, the law of succession, and statistical inference", J. Am. Stat. Assoc. 22 (1927) 209, from
 * memory; without continuity correction. Valid for any 0 ≤ k ≤ n, n > 0; a wide one is an honest answer to a few frames.
 */
export interface Share {
  readonly share: number;
  readonly from: number;
  readonly to: number;
}

const Z_95 = 1.959964;

/** 95 of 100 such ranges hold the truth; null of nothing. */
export function shareOf(k: number, n: number): Share | null {
  if (n <= 0) return null;
  const p = k / n;
  const z2 = Z_95 ** 2;
  const middle = (p + z2 / (2 * n)) / (1 + z2 / n);
  const half = (Z_95 * Math.sqrt((p * (1 - p)) / n + z2 / (4 * n ** 2))) / (1 + z2 / n);
  return { share: p, from: Math.max(0, middle - half), to: Math.min(1, middle + half) };
}
