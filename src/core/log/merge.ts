/** Lines of several writers as one set in one order, whatever order the files were read in. */
import { canonicalText } from './seal.js';
import type { LogLine } from './types.js';

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** Lamport time, then writer, then seq; never the clock on the wall. */
export const compareLines = (a: LogLine, b: LogLine): number =>
  a.lamport - b.lamport || compareText(a.writer, b.writer) || a.seq - b.seq;

/** Also settles two different lines with the same place, which only a mended or forged file can have. */
const compareWholly = (a: LogLine, b: LogLine): number =>
  compareLines(a, b) || (a === b ? 0 : compareText(canonicalText(a), canonicalText(b)));

/** The union of the lines, in order, each once. Commutative, associative, idempotent. */
export function mergeLines(...logs: readonly (readonly LogLine[])[]): readonly LogLine[] {
  const sorted = logs.flat().sort(compareWholly);
  return sorted.filter((line, i) => i === 0 || compareWholly(sorted[i - 1] as LogLine, line) !== 0);
}
