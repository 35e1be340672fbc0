/** What this copy of the log lacks, told from the numbers of the lines that are there. */
import { decisionOf } from '../../core/log/index.js';
import type { LogLine } from '../../core/log/types.js';

/** The highest seq of each writer. */
export function newestSeqs(lines: readonly LogLine[]): ReadonlyMap<string, number> {
  const newest = new Map<string, number>();
  for (const { writer, seq } of lines) newest.set(writer, Math.max(seq, newest.get(writer) ?? 0));
  return newest;
}

/** Also counts what others say they have seen of a writer whose file is not here, or not whole. */
function expectedSeqs(lines: readonly LogLine[]): ReadonlyMap<string, number> {
  const expected = new Map(newestSeqs(lines));
  for (const line of lines) {
    const decision = decisionOf(line);
    if (decision?.kind !== 'seen') continue;
    for (const [writer, seq] of Object.entries(decision.writers)) {
      expected.set(writer, Math.max(seq, expected.get(writer) ?? 0));
    }
  }
  return expected;
}

/** One sentence per writer of whom lines are missing. */
export function missingLines(lines: readonly LogLine[]): readonly string[] {
  const here = new Map<string, Set<number>>();
  for (const { writer, seq } of lines) here.set(writer, (here.get(writer) ?? new Set()).add(seq));
  return [...expectedSeqs(lines)].flatMap(([writer, last]) => {
    const missing = last - (here.get(writer)?.size ?? 0);
    if (missing <= 0) return [];
    return [
      `Expected ${last} decisions in log/${writer}.jsonl but ${missing} of them are missing or damaged. Copy that file from the other disk or laptop beside the others.`,
    ];
  });
}
