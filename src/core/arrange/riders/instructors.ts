/** Who rides with several groups of one half-day leads them round: an instructor, as a guess, until somebody says. */
import type { Field } from './field.js';

/** Passes with the group it is seen least with but one: a single pass may be another rider's. */
const LEAST_PASSES = 2;

/** @param sessions of each pass that is surely this rider's. */
export function isSeenWithSeveralGroups(sessions: readonly number[], field: Field): boolean {
  const counts = new Map<string, number>();
  for (const session of sessions) {
    if (session < 0 || field.groupOf[session]! < 0) continue;
    const key = `${field.halfOf[session]} ${field.groupOf[session]}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const halves = [...counts].filter(([, count]) => count >= LEAST_PASSES).map(([key]) => key.split(' ')[0]);
  return new Set(halves).size < halves.length;
}
