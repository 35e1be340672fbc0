/** Whom to look for, by group in the order of the day; riders no picture shows come last, apart. */
import type { Group } from '../types.js';
import type { StillToGet, WatchLine } from './types.js';

export function stillToGetOf(
  groups: readonly Group[],
  watch: readonly WatchLine[],
): { readonly stillToGet: readonly StillToGet[]; readonly neverSeen: readonly WatchLine[] } {
  const thin = watch.filter(({ isNeverSeen }) => !isNeverSeen);
  const known = new Set(groups.map(({ key }) => key));
  const byGroup = groups.map((group) => ({ group, riders: thin.filter((rider) => rider.group === group.key) }));
  const others = thin.filter(({ group }) => group === null || !known.has(group));
  return {
    stillToGet: [...byGroup, { group: null, riders: others }].filter(({ riders }) => riders.length > 0),
    neverSeen: watch.filter(({ isNeverSeen }) => isNeverSeen),
  };
}
