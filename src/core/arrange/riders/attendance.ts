/**
 * A rider is in nearly every session of the group: how often somebody is seen in a session, as a zero-inflated negative
 * binomial (A. Cameron, P. Trivedi, *Regression Analysis of Count Data*, 1998, ch. 4). It joins fragments: two halves
 * of a rider, each missing from the sessions of the other, are unlikely; one rider present in all is not.
 */
import type { Field } from './field.js';

/** Sits out a session altogether: a rider of its group, and an instructor. Common practice, no source. */
const SITS_OUT = { rider: 0.1, instructor: 0.4 } as const;
/** Shape of the negative binomial: passes photographed vary more than a Poisson's. */
const SHAPE = 3;
const MOST_COUNT = 14;
/** Clusters smaller than this are fragments and do not count as riders of a group… */
const LEAST_PASSES = 4;
/** …nor do those below this share of the rider that a pass is of in the mean: after one session riders are small. */
const LEAST_SHARE = 0.25;

/** Per session, log-probability of being seen 0, 1, … {@link MOST_COUNT} times. */
export interface Attendance {
  readonly rider: readonly Float64Array[];
  readonly instructor: readonly Float64Array[];
}

/** @param clusters passes of each provisional rider. */
export function expectAttendance(field: Field, clusters: readonly (readonly number[])[]): Attendance {
  const seen = new Float64Array(field.sessionCount);
  for (const { session } of field.passes) if (session >= 0) seen[session] = seen[session]! + 1;
  const ridersOf = countRiders(field, clusters);
  const means = Array.from(seen, (passes, s) => {
    const riders = Math.max(2, ridersOf.get(`${field.groupOf[s]} ${field.halfOf[s]}`) ?? 2);
    return passes / (riders * (1 - SITS_OUT.rider));
  });
  return {
    rider: means.map((mean) => logProbabilities(mean, SITS_OUT.rider)),
    instructor: means.map((mean) => logProbabilities(mean, SITS_OUT.instructor)),
  };
}

function countRiders(field: Field, clusters: readonly (readonly number[])[]): ReadonlyMap<string, number> {
  const riders = new Map<string, number>();
  const least = Math.min(LEAST_PASSES, LEAST_SHARE * meanSize(clusters));
  for (const passes of clusters) {
    if (passes.length < least) continue;
    const keys = new Set<string>();
    for (const p of passes) {
      const { session } = field.passes[p]!;
      if (session >= 0) keys.add(`${field.groupOf[session]} ${field.halfOf[session]}`);
    }
    for (const key of keys) riders.set(key, (riders.get(key) ?? 0) + 1);
  }
  return riders;
}

/** Passes of the rider that a pass is of, in the mean. */
export function meanSize(clusters: readonly (readonly number[])[]): number {
  let passes = 0;
  let squares = 0;
  for (const { length } of clusters) {
    passes += length;
    squares += length * length;
  }
  return squares / Math.max(1, passes);
}

function logProbabilities(mean: number, sitsOut: number): Float64Array {
  const out = new Float64Array(MOST_COUNT + 1);
  let probability = (SHAPE / (SHAPE + mean)) ** SHAPE;
  for (let k = 0; k <= MOST_COUNT; k++) {
    out[k] = Math.log(k === 0 ? sitsOut + (1 - sitsOut) * probability : (1 - sitsOut) * probability);
    probability *= (((k + SHAPE) / (k + 1)) * mean) / (SHAPE + mean);
  }
  return out;
}

export const countIndex = (count: number): number => Math.min(MOST_COUNT, count);
