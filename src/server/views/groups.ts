/** Riders by group: the thin ones in full, the rest as a count. */
import type { Rider } from '../../core/arrange/types.js';
import type { GroupKeyView, GroupRidersView, GroupView, RiderLineView } from '../types.js';
import type { Known } from './known.js';
import { riderLineOf } from './riderLine.js';

export const UNKNOWN_GROUP = '-';

const isThin = (known: Known, rider: Rider): boolean => known.coverageByKey.get(rider.key)?.isThin ?? false;

const goodAtOf = (known: Known, riders: readonly Rider[]): GroupView['goodAt'] => {
  const counts = known.spots.map((spot) => {
    const arcs = riders.flatMap(
      (rider) => known.coverageByKey.get(rider.key)?.wheel.filter((arc) => arc.spot === spot.id) ?? [],
    );
    const isToCome = arcs.length === 0 || arcs.every((arc) => arc.state === 'to-come');
    return {
      number: spot.number,
      name: spot.name,
      riders: isToCome ? null : arcs.filter((arc) => arc.state === 'good').length,
    };
  });
  const known_ = counts.flatMap((count) => (count.riders === null ? [] : [count.riders]));
  const lowest = known_.length > 1 && Math.min(...known_) < Math.max(...known_) ? Math.min(...known_) : null;
  return counts.map((count) => ({ ...count, isLowest: lowest !== null && count.riders === lowest }));
};

/** Fewest good frames first: that is who needs a look. */
const byNeed = (a: RiderLineView, b: RiderLineView): number => a.goodFrames - b.goodFrames || a.frames - b.frames;

function groupView(known: Known, group: GroupKeyView | null): GroupView {
  const riders = ridersOf(known, group?.key ?? null);
  const thin = riders.filter((rider) => isThin(known, rider));
  return {
    group,
    riders: riders.length,
    goodAt: goodAtOf(known, riders),
    thin: thin.map((rider) => riderLineOf(known, rider)).sort(byNeed),
    wellEnough: riders.length - thin.length,
  };
}

const ridersOf = (known: Known, key: string | null): readonly Rider[] =>
  known.state.arrangement.riders.filter((rider) =>
    key === null ? rider.group === null || !known.groupByKey.has(rider.group) : rider.group === key,
  );

export function groupViews(known: Known): readonly GroupView[] {
  const all = [...known.groups, null].map((group) => groupView(known, group));
  return all.filter((view) => view.group !== null || view.riders > 0);
}

/** The riders that the first screen folds to a count. */
export function wellEnoughOf(known: Known, key: string): GroupRidersView {
  const riders = ridersOf(known, key === UNKNOWN_GROUP ? null : key).filter((rider) => !isThin(known, rider));
  return { asOf: known.state.asOf, riders: riders.map((rider) => riderLineOf(known, rider)) };
}
