/**
 * B-cubed precision and recall: how pure and how whole clusters are, averaged over items.
 *
 * Sources: A. Bagga, B. Baldwin, "Algorithms for scoring coreference chains", LREC workshop on linguistic coreference
 * (1998) 563–566; E. Amigó, J. Gonzalo, J. Artiles, F. Verdejo, "A comparison of extrinsic clustering evaluation
 * metrics based on formal constraints", Information Retrieval 12 (2009) 461–486, for items in several clusters.
 * Every item weighs the same. Exact.
 */
export interface PrecisionRecall {
  readonly precision: number;
  readonly recall: number;
  /** Harmonic mean of the two. */
  readonly f1: number;
  readonly items: number;
}

export interface LabelledItem {
  readonly cluster: string | number;
  readonly truth: string | number;
}

/** One cluster and one true class an item; O(items). Null for no items: there is nothing to be right about. */
export function bcubed(items: readonly LabelledItem[]): PrecisionRecall | null {
  if (items.length === 0) return null;
  const clusters = new Map<string | number, number>();
  const truths = new Map<string | number, number>();
  const joint = new Map<string | number, Map<string | number, number>>();
  for (const { cluster, truth } of items) {
    clusters.set(cluster, (clusters.get(cluster) ?? 0) + 1);
    truths.set(truth, (truths.get(truth) ?? 0) + 1);
    const row = joint.get(cluster) ?? new Map<string | number, number>();
    row.set(truth, (row.get(truth) ?? 0) + 1);
    joint.set(cluster, row);
  }
  let precision = 0;
  let recall = 0;
  for (const [cluster, row] of joint)
    for (const [truth, both] of row) {
      precision += (both * both) / clusters.get(cluster)!;
      recall += (both * both) / truths.get(truth)!;
    }
  return summary(precision / items.length, recall / items.length, items.length);
}

export interface OverlappingItem {
  readonly clusters: readonly string[];
  readonly truths: readonly string[];
}

/** Items may be in several clusters and classes (extended B-cubed, Amigó et al. 2009, section 5); O(items²). */
export function extendedBcubed(items: readonly OverlappingItem[]): PrecisionRecall | null {
  if (items.length === 0) return null;
  const shared = (a: readonly string[], b: readonly string[]): number => a.filter((name) => b.includes(name)).length;
  const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
  const side = (own: 'clusters' | 'truths', other: 'clusters' | 'truths'): number =>
    mean(
      items.map((a) =>
        mean(
          items
            .filter((b) => shared(a[own], b[own]) > 0)
            .map((b) => Math.min(shared(a[own], b[own]), shared(a[other], b[other])) / shared(a[own], b[own])),
        ),
      ),
    );
  return summary(side('clusters', 'truths'), side('truths', 'clusters'), items.length);
}

const summary = (precision: number, recall: number, items: number): PrecisionRecall => ({
  precision,
  recall,
  f1: precision + recall === 0 ? 0 : (2 * precision * recall) / (precision + recall),
  items,
});
