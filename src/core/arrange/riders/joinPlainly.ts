/** Tracklets → riders as far as it goes without knowing who is out when: only plain cases are joined. */
import type { Attendance } from './attendance.js';
import type { Field } from './field.js';
import { learnModel } from './learnModel.js';
import type { Look } from './looks.js';
import { mergeBestFirst } from './merge.js';
import type { PassNumbers } from './numbers.js';
import { RiderModel } from './riderModel.js';
import { findSeeds, type SeedThresholds } from './seeds.js';

export interface PlainJoiner {
  readonly thresholds: SeedThresholds;
  /** How far bikes that look alike within a session are one bike, 0–1. */
  readonly repeats: number;
  /** @param field the one learnt from, its groups and care apart. */
  join(field: Field): { readonly model: RiderModel; readonly riders: readonly (readonly number[])[] };
  /** Where it is known how often somebody is out. */
  modelWith(field: Field, attendance: Attendance, before: RiderModel): RiderModel;
}

export function plainJoiner(field: Field, look: Look, numbers: PassNumbers, known: SeedThresholds | null): PlainJoiner {
  const { tracklets, rough, thresholds, repeats } = findSeeds(field, look, known);
  const learnt = learnModel(field, look, { tracklets, rough });
  return {
    thresholds,
    repeats,
    join: (own) => {
      const model = new RiderModel(own, learnt, numbers, null);
      const joined = mergeBestFirst(
        model,
        tracklets.map((passes) => model.cluster(passes)),
      );
      return { model, riders: joined.map(({ passes }) => passes) };
    },
    modelWith: (own, attendance, before) => new RiderModel(own, learnt, numbers, attendance, before),
  };
}
