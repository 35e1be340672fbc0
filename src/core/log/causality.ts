/**
 * Who knew what: a writer's `seen` lines say up to where it had read the others. Of two statements, one came after
 * the other only if its writer had seen it; otherwise they were said at once, on two laptops.
 */
import type { WriterId } from '../ids.js';
import { decisionOf } from './line.js';
import type { LogLine } from './types.js';

export interface Causality {
  /** The writer of `b` had seen `a` when it said `b`. */
  isBefore(a: LogLine, b: LogLine): boolean;
}

type Knowledge = ReadonlyMap<string, number>;
/** Per writer, in order of seq: from that line on it knew this. */
type Snapshots = Map<string, { readonly seq: number; readonly known: Knowledge }[]>;

function knowledgeAt(snapshots: Snapshots, writer: string, seq: number): Knowledge {
  const ofWriter = snapshots.get(writer) ?? [];
  return ofWriter.findLast((snapshot) => snapshot.seq <= seq)?.known ?? new Map();
}

function raise(known: Map<string, number>, writer: string, seq: number): void {
  if (seq > (known.get(writer) ?? 0)) known.set(writer, seq);
}

/** `lines` in the order of {@link mergeLines}: what a writer had seen stands before the line that says so. */
export function causalityOf(lines: readonly LogLine[]): Causality {
  const snapshots: Snapshots = new Map();
  for (const line of lines) {
    const decision = decisionOf(line);
    if (decision?.kind !== 'seen') continue;
    const known = new Map(knowledgeAt(snapshots, line.writer, line.seq));
    for (const [writer, seq] of Object.entries(decision.writers)) {
      raise(known, writer, seq);
      for (const [other, otherSeq] of knowledgeAt(snapshots, writer, seq)) raise(known, other, otherSeq);
    }
    snapshots.set(line.writer, [...(snapshots.get(line.writer) ?? []), { seq: line.seq, known }]);
  }
  const hasSeen = (by: LogLine, writer: WriterId, seq: number): boolean =>
    (knowledgeAt(snapshots, by.writer, by.seq).get(writer) ?? 0) >= seq;
  return {
    isBefore: (a, b) => (a.writer === b.writer ? a.seq < b.seq : hasSeen(b, a.writer, a.seq)),
  };
}
