/**
 * Passes → riders, without any person's word: tracklets within each session, a model of looks learnt from them, merging
 * best first, and once more when it is known how often a rider of each group is seen.
 *
 * Whole passes and tracklets are the units: merging costs what the number of riders × sessions costs, not the number of
 * frames.
 */
import { expectAttendance } from './attendance.js';
import { chooseLook } from './chooseLook.js';
import type { Field } from './field.js';
import { learnModel } from './learnModel.js';
import type { Look } from './looks.js';
import { mergeBestFirst } from './merge.js';
import { type Cluster, RiderModel } from './riderModel.js';
import { findSeeds } from './seeds.js';

export interface Clustering {
  /** Per pass the number of its rider, from 0 in order of first pass. */
  readonly labels: Int32Array;
  readonly clusters: readonly Cluster[];
  readonly model: RiderModel | null;
  /** How sure these passes are one rider, 0–1. */
  confidenceOf(passes: readonly number[]): number;
}

export function clusterPasses(field: Field, looks: readonly Look[]): Clustering {
  if (field.passes.length === 0)
    return { labels: new Int32Array(0), clusters: [], model: null, confidenceOf: () => 0.5 };
  const look = chooseLook(looks, field);
  const seeds = findSeeds(field, look);
  const learnt = learnModel(field, look, seeds);
  const withoutAttendance = new RiderModel(field, learnt, null);
  const first = mergeBestFirst(withoutAttendance, seeds.tracklets);
  const attendance = expectAttendance(
    field,
    first.map(({ passes }) => passes),
  );
  const model = new RiderModel(field, learnt, attendance, withoutAttendance);
  const second = mergeBestFirst(
    model,
    first.map(({ passes }) => passes),
  );
  const clusters = second
    .map((cluster) => model.cluster([...cluster.passes].sort((a, b) => a - b)))
    .sort((a, b) => a.passes[0]! - b.passes[0]!);
  const labels = new Int32Array(field.passes.length);
  clusters.forEach(({ passes }, c) => {
    for (const p of passes) labels[p] = c;
  });
  return { labels, clusters, model, confidenceOf: rememberConfidence(clusters, model) };
}

/** The weakest tie of one session's passes to the rest; a rider of one session rests on its own passes alone. */
function rememberConfidence(clusters: readonly Cluster[], model: RiderModel): Clustering['confidenceOf'] {
  const known = new Map<string, number>();
  const keyOf = (passes: readonly number[]): string => `${passes.length} ${passes[0]} ${passes.at(-1)}`;
  const found = new Map(clusters.map((cluster) => [keyOf(cluster.passes), cluster]));
  return (passes) => {
    const key = keyOf(passes);
    const before = known.get(key);
    if (before !== undefined) return before;
    const cluster = found.get(key);
    const confidence = cluster === undefined ? 0.9 : weakestTie(cluster, model);
    known.set(key, confidence);
    return confidence;
  };
}

function weakestTie(cluster: Cluster, model: RiderModel): number {
  if (cluster.sightings.size < 2) return 0.5;
  let weakest = Number.POSITIVE_INFINITY;
  for (const passes of model.byPlace(cluster.passes).values()) {
    const rest = cluster.passes.filter((p) => !passes.includes(p));
    weakest = Math.min(weakest, model.logOdds(model.cluster(passes), model.cluster(rest), -8));
  }
  return 1 / (1 + Math.exp(-Math.max(-8, weakest) / 2));
}
