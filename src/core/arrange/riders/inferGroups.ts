/**
 * Groups where no timetable names them: sessions that the same riders are out in are one group's. Riders as first joined
 * serve, however many pieces they are still in.
 */
import { averageLinkage } from '../../numeric/cluster.js';
import type { Field } from './field.js';

/**
 * Of the riders of the smaller session, so many are also in the other one. On simulated days sessions of one group share
 * half and more, those of two groups the instructors only.
 */
const LEAST_SHARED = 0.2;
/** With fewer sessions there is nothing to tell groups by. */
const LEAST_SESSIONS = 4;

/** @param riders passes of each rider as first joined. Sessions that are nobody else's are a group of their own. */
export function withInferredGroups(field: Field, riders: readonly (readonly number[])[]): Field {
  const n = field.sessionCount;
  if (field.groups.length > 0 || n < LEAST_SESSIONS) return field;
  const labels = averageLinkage(n, sharedShares(field, riders), new Uint8Array(n * n), LEAST_SHARED);
  const count = labels.reduce((most, label) => Math.max(most, label + 1), 0);
  if (count === n) return field;
  return { ...field, groups: Array.from({ length: count }, (_, g) => `${g + 1}`), groupOf: Int32Array.from(labels) };
}

function sharedShares({ passes, sessionCount: n }: Field, riders: readonly (readonly number[])[]): Float32Array {
  const shared = new Float32Array(n * n);
  for (const rider of riders) {
    const sessions = [...new Set(rider.map((p) => passes[p]!.session))].filter((s) => s >= 0);
    if (sessions.length < 2) continue;
    for (const s of sessions) for (const t of sessions) shared[s * n + t] = shared[s * n + t]! + 1;
  }
  return shared.map((count, at) => {
    const [s, t] = [Math.floor(at / n), at % n];
    return count / Math.max(1, Math.min(shared[s * n + s]!, shared[t * n + t]!));
  });
}
