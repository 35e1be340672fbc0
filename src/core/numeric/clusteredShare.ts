/**
 * The range of a share counted in clusters: frames of one burst succeed and fail together, and forty of them say less than forty bursts.
 *
 * Sources, from memory: W. G. Cochran, "Sampling Techniques", 3rd ed. (Wiley, 1977), section 3.12, eq. 3.34: variance of a share over
 * clusters of unequal size; E. L. Korn and B. I. Graubard, "Confidence intervals for proportions with small expected number of positive
 * counts estimated from survey data", Survey Methodology 24 (1998) 193: the number of independent trials that would have that
 * variance stands in the interval for a simple sample, here Wilson's. No finite-population correction.
 */
import { type Share, shareOf } from './wilson.js';

export interface Cluster {
  readonly hits: number;
  readonly trials: number;
}

/** Fewer clusters do not tell their own spread: each then counts as one trial. */
const LEAST_CLUSTERS = 5;

/** 95 of 100 such ranges hold the truth; null of nothing. */
export function clusteredShareOf(clusters: readonly Cluster[]): Share | null {
  const filled = clusters.filter(({ trials }) => trials > 0);
  const trials = sumOf(filled.map((cluster) => cluster.trials));
  if (trials === 0) return null;
  const share = sumOf(filled.map(({ hits }) => hits)) / trials;
  const independent = independentTrials(filled, share, trials);
  return shareOf(share * independent, independent);
}

/** Between as many as there are clusters and as many as there are trials. */
function independentTrials(clusters: readonly Cluster[], share: number, trials: number): number {
  const n = clusters.length;
  if (n < LEAST_CLUSTERS) return n;
  const squares = sumOf(clusters.map(({ hits, trials: size }) => (hits - share * size) ** 2));
  const variance = (n * squares) / ((n - 1) * trials ** 2); // (3.34)
  // All hit or all missed: no spread shows, which is not that there is none.
  if (variance === 0) return n;
  return Math.min(trials, Math.max(n, (share * (1 - share)) / variance));
}

const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0);
