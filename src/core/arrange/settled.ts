/**
 * Riders that a person settled: frames may join them, none leaves without a question. What was found otherwise since, by
 * further cards, a better measurer or a word about another rider, is put back and asked.
 */
import type { FileId, RiderId } from '../ids.js';
import type { DecisionOf } from './decisions.js';

export interface SettledInput {
  /** Per pass its rider. */
  readonly labels: Int32Array;
  /** The last word about each rider counts. */
  readonly settled: readonly DecisionOf<'settled'>[];
  /** The rider that carries the id now, null for none. */
  riderOf(id: RiderId): number | null;
  /** Passes with a bike in that file's picture. */
  passesAt(file: FileId): readonly number[];
  /** A person spoke of this pass: that stands above what was settled. */
  isSaid(pass: number): boolean;
  /** How much a pass looks like these, higher is more. */
  likeness(pass: number, passes: readonly number[]): number;
}

/** Passes of a settled rider that were found to be another's. */
export interface Held {
  readonly id: RiderId;
  /** All that was settled. */
  readonly files: readonly FileId[];
  readonly passes: readonly number[];
}

export interface Settled {
  readonly labels: Int32Array;
  /** Passes that stay because their rider was settled. */
  readonly passes: ReadonlySet<number>;
  readonly held: readonly Held[];
}

export function keepSettled(input: SettledInput): Settled {
  const labels = Int32Array.from(input.labels);
  const kept = new Set<number>();
  const held: Held[] = [];
  const last = new Map(input.settled.map((decision) => [decision.rider, decision]));
  for (const [id, { files }] of last) {
    const rider = input.riderOf(id);
    if (rider === null) continue;
    const own = passesOf(rider, input.labels);
    const back = new Set<number>();
    for (const file of files) {
      const pass = settledPass(input.passesAt(file), rider, own, input);
      if (pass === null) continue;
      kept.add(pass);
      if (input.labels[pass] !== rider && !isSettledTwice(id, file, input.settled)) back.add(pass);
      labels[pass] = rider;
    }
    if (back.size > 0) held.push({ id, files, passes: [...back].sort((a, b) => a - b) });
  }
  return { labels, passes: kept, held };
}

/** Whoever settles a rider again with the same picture in it has seen that it was found to be another's. */
const isSettledTwice = (id: RiderId, file: FileId, settled: SettledInput['settled']): boolean =>
  settled.filter(({ rider, files }) => rider === id && files.includes(file)).length > 1;

function passesOf(rider: number, labels: Int32Array): readonly number[] {
  return [...labels.keys()].filter((p) => labels[p] === rider);
}

/** Which bike of the picture was settled: the rider's own, else the one most like the rider. */
function settledPass(
  candidates: readonly number[],
  rider: number,
  own: readonly number[],
  input: SettledInput,
): number | null {
  const still = candidates.find((p) => input.labels[p] === rider);
  if (still !== undefined) return still;
  const free = candidates.filter((p) => !input.isSaid(p));
  if (free.length === 0) return null;
  return free.reduce((best, p) => (input.likeness(p, own) > input.likeness(best, own) ? p : best));
}
