/** Lines of `log/<writer>.jsonl`: writing one, reading one, reading a whole file. */
import type { EpochMs } from '../units.js';
import { checkDecision, isKnownKind } from './decisionSchema.js';
import { sealed, unsealed } from './seal.js';
import type { Decision, LogLine, UnknownDecision } from './types.js';

/** Version of the line's format. A line of a newer one is kept and has no effect here. */
export const LINE_VERSION = 1;

/** The line as it is written, without the newline. */
export const lineText = (line: LogLine): string => sealed(line);

export type ParsedLine =
  /** `notice`: the line is kept but says something that this version cannot use. */
  | { readonly kind: 'line'; readonly line: LogLine; readonly notice?: string }
  | { readonly kind: 'damaged'; readonly why: string };

const isCount = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) > 0;

function hasItsPlace(value: Record<string, unknown>): boolean {
  const isNamed = typeof value.writer === 'string' && typeof value.gesture === 'string';
  const isPlaced = isCount(value.seq) && isCount(value.v) && Number.isSafeInteger(value.lamport);
  const decision = value.decision as { kind?: unknown } | null | undefined;
  return isNamed && isPlaced && typeof decision?.kind === 'string';
}

/** Reads one line; anything whole is kept, whatever it says. */
export function parseLine(text: string): ParsedLine {
  const seal = unsealed(text);
  if (seal.kind === 'damaged') return seal;
  const { value } = seal;
  if (!hasItsPlace(value)) return { kind: 'damaged', why: 'writer, seq, v, lamport, gesture or kind is missing' };
  const line = { ...value, at: value.at as EpochMs } as LogLine;
  if (line.v > LINE_VERSION) return { kind: 'line', line, notice: newerNotice(line) };
  if (!isKnownKind(line.decision.kind)) return { kind: 'line', line, notice: unknownNotice(line) };
  return checkedLine(line);
}

function checkedLine(line: LogLine): ParsedLine {
  const checked = checkDecision(line.decision);
  if (checked.kind === 'decision') return { kind: 'line', line };
  const decision: UnknownDecision = { kind: 'malformed', original: line.decision };
  const notice = `Line ${line.seq} of ${line.writer} is kept without effect. ${checked.sentence}`;
  return { kind: 'line', line: { ...line, decision }, notice };
}

const newerNotice = (line: LogLine): string =>
  `Line ${line.seq} of ${line.writer} was written by a newer Tyrewall (line format ${line.v}, this one knows ${LINE_VERSION}); it is kept without effect.`;

const unknownNotice = (line: LogLine): string =>
  `Line ${line.seq} of ${line.writer} says “${line.decision.kind}”, which this version does not know; it is kept without effect.`;

/** The decision of a line, when this version may act on it. */
export function decisionOf(line: LogLine): Decision | null {
  return line.v <= LINE_VERSION && isKnownKind(line.decision.kind) ? (line.decision as Decision) : null;
}

export interface ReadLog {
  readonly lines: readonly LogLine[];
  readonly notices: readonly string[];
  /** Bytes or text after the last whole line were dropped: the write was cut off and had not been answered. */
  readonly isTorn: boolean;
}

/**
 * Reads one writer's file. `name` is what notices call it, for instance `log/3f2a….jsonl`.
 * A line that does not end in a newline and is not whole was torn by a power cut; nobody was told that it is safe.
 */
export function readLog(text: string, name: string): ReadLog {
  const lines: LogLine[] = [];
  const notices: string[] = [];
  const rows = text.split('\n');
  const torn = rows.pop() as string;
  for (const [i, row] of rows.entries()) takeRow(row, `line ${i + 1} of ${name}`, lines, notices);
  if (torn === '') return { lines, notices, isTorn: false };
  const last = parseLine(torn);
  if (last.kind === 'line') return { lines: [...lines, last.line], notices, isTorn: false };
  notices.push(
    `The last line of ${name} was cut off while it was being written, and was dropped. It had not been answered.`,
  );
  return { lines, notices, isTorn: true };
}

function takeRow(row: string, where: string, lines: LogLine[], notices: string[]): void {
  if (row.trim() === '') return;
  const parsed = parseLine(row);
  if (parsed.kind === 'line') lines.push(parsed.line);
  if (parsed.kind === 'line' && parsed.notice !== undefined) notices.push(parsed.notice);
  if (parsed.kind === 'damaged') {
    notices.push(
      `Expected a whole decision in ${where}, but ${parsed.why}; that line has no effect, the rest goes on. The other disk's copy may have it whole.`,
    );
  }
}
