/**
 * A rider is in nearly every session of the group: how often somebody is seen in a session, as a zero-inflated negative
 * binomial (A. Cameron, P. Trivedi, *Regression Analysis of Count Data*, 1998, ch. 4). It joins fragments: two halves
 * of a rider, each missing from the sessions of the other, are unlikely; one rider present in all is not.
 */
import type { Field } from './field.js';

/** Sits out a session altogether. */
const SITS_OUT = 0.1;
/** Shape of the negative binomial: passes photographed vary more than a Poisson's. */
const SHAPE = 3;
const MOST_COUNT = 14;
/** Clusters smaller than this are fragments and do not count as riders of a group. */
const LEAST_PASSES = 4;

/** Per session, log-probability of a rider being seen 0, 1, … {@link MOST_COUNT} times. */
export type Attendance = readonly Float64Array[];

/** @param clusters passes of each provisional rider. */
export function expectAttendance(field: Field, clusters: readonly (readonly number[])[]): Attendance {
  const seen = new Float64Array(field.sessionCount);
  for (const { session } of field.passes) if (session >= 0) seen[session] = seen[session]! + 1;
  const ridersOf = countRiders(field, clusters);
  return Array.from({ length: field.sessionCount }, (_, s) => {
    const riders = Math.max(2, ridersOf.get(`${field.groupOf[s]} ${field.halfOf[s]}`) ?? 2);
    return logProbabilities(seen[s]! / (riders * (1 - SITS_OUT)));
  });
}

function countRiders(field: Field, clusters: readonly (readonly number[])[]): ReadonlyMap<string, number> {
  const riders = new Map<string, number>();
  for (const passes of clusters) {
    if (passes.length < LEAST_PASSES) continue;
    const keys = new Set<string>();
    for (const p of passes) {
      const { session } = field.passes[p]!;
      if (session >= 0) keys.add(`${field.groupOf[session]} ${field.halfOf[session]}`);
    }
    for (const key of keys) riders.set(key, (riders.get(key) ?? 0) + 1);
  }
  return riders;
}

function logProbabilities(mean: number): Float64Array {
  const out = new Float64Array(MOST_COUNT + 1);
  let probability = (SHAPE / (SHAPE + mean)) ** SHAPE;
  for (let k = 0; k <= MOST_COUNT; k++) {
    out[k] = Math.log(k === 0 ? SITS_OUT + (1 - SITS_OUT) * probability : (1 - SITS_OUT) * probability);
    probability *= (((k + SHAPE) / (k + 1)) * mean) / (SHAPE + mean);
  }
  return out;
}

export const countIndex = (count: number): number => Math.min(MOST_COUNT, count);
