/** Laps so far, from the times at which riders went by one spot. Rule PL1203. */
import type { Arrangement, Pass, Rider } from '../../arrange/types.js';
import type { RiderKey } from '../../ids.js';
import type { LapSoFar } from '../../plan/lunch/types.js';
import { type Milliseconds, millisecondsOf } from '../../units.js';

/** Riders lap in up to so many times the fastest lap: novice 1.6 (common practice), and traffic. Two laps are longer. */
const SLOWEST = 1.85;
/** Laps of one rider lie so near together. */
const ALIKE = 0.06;
/** One gap may be chance: a pass of somebody else, a lap with a stop. */
const LEAST_LAPS = 2;

/** Of riders with two laps that agree. `fastestLapMs` null: nothing can tell one lap from two. */
export function lapsOf({ passes, riders, unsure }: Arrangement, fastestLapMs: Milliseconds | null): LapsOfRiders {
  if (fastestLapMs === null) return new Map();
  const left = new Set(unsure ?? []);
  return new Map(
    riders.flatMap((rider): (readonly [RiderKey, LapSoFar])[] => {
      const own = rider.passes.flatMap((index) => (left.has(index) ? [] : [passes[index]!]));
      const lap = lapOf(gapsOf(own).filter((gap) => gap >= fastestLapMs && gap < SLOWEST * fastestLapMs));
      return lap === null ? [] : [[rider.key, lap]];
    }),
  );
}

export type LapsOfRiders = ReadonlyMap<RiderKey, LapSoFar>;

function gapsOf(passes: readonly Pass[]): number[] {
  const last = new Map<string, number>();
  return passes
    .toSorted((a, b) => a.start - b.start)
    .flatMap(({ spot, session, start, end }) => {
      const key = `${session}|${spot ?? ''}`;
      const middle = (start + end) / 2;
      const before = last.get(key);
      last.set(key, middle);
      return before === undefined ? [] : [middle - before];
    });
}

/** The middle of the largest lot of gaps that are alike. */
function lapOf(gaps: readonly number[]): LapSoFar | null {
  const lots = gaps.map((gap) => gaps.filter((other) => Math.abs(other - gap) <= ALIKE * gap));
  const largest = lots.reduce<readonly number[]>((most, lot) => (lot.length > most.length ? lot : most), []);
  return largest.length < LEAST_LAPS ? null : { ms: millisecondsOf(middleOf(largest)), laps: largest.length };
}

/** Middle of the laps of a group's riders. */
export function lapOfGroup(riders: readonly Pick<Rider, 'key'>[], laps: LapsOfRiders): LapSoFar | null {
  const own = riders.flatMap(({ key }) => laps.get(key) ?? []);
  if (own.length === 0) return null;
  return {
    ms: millisecondsOf(middleOf(own.map(({ ms }) => ms))),
    laps: own.reduce((sum, { laps: count }) => sum + count, 0),
  };
}

function middleOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  return Math.round(sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2);
}
