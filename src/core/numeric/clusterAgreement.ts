/**
 * How far clusters agree with true classes, by pairs and by information.
 *
 * Sources: L. Hubert, P. Arabie, "Comparing partitions", Journal of Classification 2 (1985) 193–218, eq. 5 (adjusted Rand
 * index); "V-measure: a conditional entropy-based external cluster evaluation measure", EMNLP-CoNLL (2007) 410–420, with
 * β = 1. Exact; 1 where both agree, whatever the names of the clusters.
 */
import type { LabelledItem } from './bcubed.js';

/** About 0 for clusters drawn by chance. Null for no items. */
export function adjustedRand(items: readonly LabelledItem[]): number | null {
  if (items.length === 0) return null;
  const { clusters, truths, joint } = countsOf(items);
  const together = pairsIn(joint);
  const inClusters = pairsIn(clusters);
  const inTruths = pairsIn(truths);
  const expected = (inClusters * inTruths) / Math.max(1, pairs(items.length));
  const most = (inClusters + inTruths) / 2;
  return most === expected ? 1 : (together - expected) / (most - expected);
}

export interface VMeasure {
  /** 1 where every cluster holds one class only. */
  readonly homogeneity: number;
  /** 1 where every class lies in one cluster. */
  readonly completeness: number;
  /** Harmonic mean of the two. */
  readonly v: number;
}

/** Null for no items. */
export function vMeasure(items: readonly LabelledItem[]): VMeasure | null {
  if (items.length === 0) return null;
  const { clusters, truths, joint } = countsOf(items);
  const [ofClusters, ofTruths, ofBoth] = [clusters, truths, joint].map((counts) => entropy(counts, items.length));
  const shared = ofClusters! + ofTruths! - ofBoth!;
  const homogeneity = ofTruths === 0 ? 1 : shared / ofTruths!;
  const completeness = ofClusters === 0 ? 1 : shared / ofClusters!;
  const sum = homogeneity + completeness;
  return { homogeneity, completeness, v: sum === 0 ? 0 : (2 * homogeneity * completeness) / sum };
}

type Counts = ReadonlyMap<string | number, number>;

function countsOf(items: readonly LabelledItem[]): { clusters: Counts; truths: Counts; joint: Counts } {
  const clusters = new Map<string | number, number>();
  const truths = new Map<string | number, number>();
  const joint = new Map<string, number>();
  for (const { cluster, truth } of items) {
    clusters.set(cluster, (clusters.get(cluster) ?? 0) + 1);
    truths.set(truth, (truths.get(truth) ?? 0) + 1);
    const both = JSON.stringify([cluster, truth]);
    joint.set(both, (joint.get(both) ?? 0) + 1);
  }
  return { clusters, truths, joint };
}

const pairs = (n: number): number => (n * (n - 1)) / 2;

const pairsIn = (counts: Counts): number => [...counts.values()].reduce((sum, n) => sum + pairs(n), 0);

/** In nats. */
const entropy = (counts: Counts, n: number): number =>
  [...counts.values()].reduce((sum, count) => sum - (count / n) * Math.log(count / n), 0);
