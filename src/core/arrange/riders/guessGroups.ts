/**
 * Groups where nobody named them: sessions that the same riders are out in are one group's. Riders serve as joined with
 * care, however many pieces they are still in, and with more care where that does not tell groups plainly apart. Where
 * none does, no group is guessed and the care stays: a wrong group would join riders who never met.
 */
import { averageLinkage } from '../../numeric/cluster.js';
import type { Field } from './field.js';

/** In nats against any two being one, least first. On simulated days the first tells groups apart, on half a morning the last. */
const CARE_NATS = [3, 6, 9, 14] as const;
/**
 * Of the riders of the smaller session, so many are also in the other one. On simulated days sessions of one group share
 * seven in ten and more, those of two groups one in ten: instructors, and bikes that look the same.
 */
const LEAST_SHARED = 0.5;
const USUAL_SHARED = 0.7;
/** Sessions of two groups share at most this part of what sessions of one share, in the mean: else groups are not plain. */
const MOST_BETWEEN = 0.5;
/** A session in which fewer riders were seen says nothing of its group. */
const LEAST_RIDERS = 5;

export type GuessedGroups = Pick<Field, 'groups' | 'groupOf' | 'careNats'>;

/** @param joinedWith passes of each rider as joined with so many nats of care. */
export function guessGroups(
  { passes, sessionCount }: Field,
  joinedWith: (careNats: number) => readonly (readonly number[])[],
): GuessedGroups {
  for (const careNats of CARE_NATS) {
    const together = ridersTogether(passes, sessionCount, joinedWith(careNats));
    const groupOf = plainGroups(together, sessionCount);
    if (groupOf === null) continue;
    const count = groupOf.reduce((most, group) => Math.max(most, group + 1), 0);
    return { groups: Array.from({ length: count }, (_, g) => `${g + 1}`), groupOf, careNats: 0 };
  }
  return { groups: [], groupOf: new Int32Array(sessionCount).fill(-1), careNats: CARE_NATS.at(-1)! };
}

/** `n × n`: riders seen in both sessions. */
function ridersTogether(passes: Field['passes'], n: number, riders: readonly (readonly number[])[]): Float32Array {
  const together = new Float32Array(n * n);
  for (const rider of riders) {
    const sessions = [...new Set(rider.map((p) => passes[p]!.session))].filter((s) => s >= 0);
    for (const s of sessions) for (const t of sessions) together[s * n + t] = together[s * n + t]! + 1;
  }
  return together;
}

/** Per session its group, −1 for none; null where groups are not plainly apart. */
function plainGroups(together: Float32Array, n: number): Int32Array | null {
  const telling = Array.from({ length: n }, (_, s) => s).filter((s) => together[s * n + s]! >= LEAST_RIDERS);
  if (telling.length < 2) return null;
  const m = telling.length;
  const shares = Float32Array.from(
    telling.flatMap((s) =>
      telling.map((t) => together[s * n + t]! / Math.min(together[s * n + s]!, together[t * n + t]!)),
    ),
  );
  const labels = averageLinkage(m, shares, new Uint8Array(m * m), LEAST_SHARED);
  if (!arePlainlyApart(shares, labels)) return null;
  const groupOf = new Int32Array(n).fill(-1);
  telling.forEach((s, i) => {
    groupOf[s] = labels[i]!;
  });
  return groupOf;
}

/** In the mean over their sessions: some lie on either side of lunch, when groups change. */
function arePlainlyApart(shares: Float32Array, labels: Int32Array): boolean {
  const m = labels.length;
  const within = new Mean();
  const between = new Map<string, Mean>();
  for (let i = 0; i < m; i++)
    for (let j = 0; j < i; j++) {
      const pair = [labels[i]!, labels[j]!].sort((a, b) => a - b).join(' ');
      const mean = labels[i] === labels[j] ? within : (between.get(pair) ?? new Mean());
      if (mean !== within) between.set(pair, mean);
      mean.add(shares[i * m + j]!);
    }
  const usual = within.value() ?? USUAL_SHARED;
  return [...between.values()].every((mean) => mean.value()! <= MOST_BETWEEN * usual);
}

class Mean {
  #sum = 0;
  #count = 0;

  add(value: number): void {
    this.#sum += value;
    this.#count++;
  }

  value(): number | null {
    return this.#count === 0 ? null : this.#sum / this.#count;
  }
}
