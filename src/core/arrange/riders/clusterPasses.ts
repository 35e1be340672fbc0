/**
 * Passes → riders, without any person's word: tracklets within each session, a model of looks learnt from them, merging
 * best first, and once more when it is known how often a rider of each group is seen.
 *
 * Whole passes and tracklets are the units: merging costs what the number of riders × sessions costs, not the number of
 * frames.
 */
import { findAlike } from './alike.js';
import { expectAttendance } from './attendance.js';
import type { Cluster } from './clusters.js';
import { type PassTie, tiesOf } from './confidence.js';
import type { Field } from './field.js';
import { plainJoiner } from './joinPlainly.js';
import type { Look } from './looks.js';
import { mergeBestFirst } from './merge.js';
import type { PassNumbers } from './numbers.js';
import { refineClusters } from './refine.js';
import { rejoinRiders } from './rejoin.js';
import type { RiderModel } from './riderModel.js';
import type { SeedThresholds } from './seeds.js';

export interface Clustering {
  readonly field: Field;
  /** Per pass the number of its rider, from 0 in order of first pass. */
  readonly labels: Int32Array;
  readonly clusters: readonly Cluster[];
  readonly model: RiderModel | null;
  /** Per pass how well it holds to its rider. */
  readonly ties: readonly PassTie[];
  readonly thresholds: SeedThresholds;
  /** Per cluster those that look like it. */
  readonly alike: readonly (readonly number[])[];
}

const NOTHING = {
  labels: new Int32Array(0),
  clusters: [],
  model: null,
  ties: [],
  thresholds: { trackletLikeness: 1, roughLikeness: 1 },
  alike: [],
} as const;

export function clusterPasses(
  field: Field,
  look: Look,
  numbers: PassNumbers,
  thresholds: SeedThresholds | null,
): Clustering {
  if (field.passes.length === 0) return { ...NOTHING, field };
  const joiner = plainJoiner(field, look, numbers, thresholds);
  const { model: withoutAttendance, riders } = joiner.join(field);
  const model = joiner.modelWith(field, expectAttendance(field, riders), withoutAttendance);
  const second = mergeBestFirst(
    model,
    riders.map((passes) => model.cluster(passes)),
  );
  const clusters = [...refineClusters(model, rejoinRiders(model, field, refineClusters(model, second)))].sort(
    (a, b) => a.passes[0]! - b.passes[0]!,
  );
  const labels = new Int32Array(field.passes.length);
  clusters.forEach(({ passes }, c) => {
    for (const p of passes) labels[p] = c;
  });
  const alike = findAlike(clusters, model);
  const ties = tiesOf(model, clusters, alike, field.passes.length, joiner.repeats);
  return { field, labels, clusters, model, ties, thresholds: joiner.thresholds, alike };
}
