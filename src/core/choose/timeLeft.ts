/**
 * How long what is left may take, from how long the answers took so far: a guess with its spread.
 *
 * Seconds go with the pictures there are to look at; the rate is the ratio of all seconds to all pictures (W. G. Cochran, Sampling
 * Techniques, 1977, chapter 6). What is left is a sum of answers still to come: it scatters with each of them, and with the
 * rate, which is no surer than the answers are many.
 */
import type { WriterId } from '../ids.js';
import type { FoldedLog, LogLine } from '../log/types.js';
import { studentT95 } from '../numeric/student.js';
import type { TimeLeft } from './types.js';

export interface Answer {
  readonly seconds: number;
  readonly pictures: number;
}

/** Fewer answers say too little. */
const ANSWERS_WANTED = 5;
/** A gap between two gestures longer than this, and four times as long as answers usually take, is a pause: own convention. */
const PAUSE_S = 120;
const PAUSE_TIMES = 4;

/** One for each set that was gone through, from what was said before it by the same hand. Interrupted ones are left out. */
export function answersOf(log: FoldedLog): readonly Answer[] {
  const spans = [...byWriter(log.lines).values()].flatMap(spansOf);
  const usual = median(spans.map(({ seconds }) => seconds));
  const longest = Math.max(PAUSE_S, PAUSE_TIMES * usual);
  return spans.filter((span) => span.longestGapS <= longest);
}

function byWriter(lines: readonly LogLine[]): ReadonlyMap<WriterId, readonly LogLine[]> {
  const own = new Map<WriterId, LogLine[]>();
  for (const line of lines) {
    const before = own.get(line.writer);
    if (before === undefined) own.set(line.writer, [line]);
    else before.push(line);
  }
  return own;
}

interface Span extends Answer {
  readonly longestGapS: number;
}

/** From one set gone through to the next. */
function spansOf(lines: readonly LogLine[]): readonly Span[] {
  const spans: Span[] = [];
  let from: LogLine | null = null;
  let longestGapS = 0;
  for (const [i, line] of lines.entries()) {
    const before = lines[i - 1];
    if (before) longestGapS = Math.max(longestGapS, (line.at - before.at) / 1000);
    const { decision } = line;
    if (decision.kind !== 'gone-through' || line.gesture === from?.gesture) continue;
    const pictures = Array.isArray(decision.files) ? decision.files.length + 1 : 1;
    const wasLookedAt = !('unseen' in decision);
    if (from !== null && wasLookedAt && line.at > from.at)
      spans.push({ seconds: (line.at - from.at) / 1000, pictures, longestGapS });
    from = line;
    longestGapS = 0;
  }
  return spans;
}

export function timeLeftFor(answers: readonly Answer[], pictures: readonly number[]): TimeLeft {
  if (pictures.length === 0) return { kind: 'done' };
  const n = answers.length;
  if (n < ANSWERS_WANTED) return { kind: 'not-known-yet', answers: n, wanted: ANSWERS_WANTED };
  const rate = secondsAPicture(answers)!;
  const seen = sum(answers.map((one) => one.pictures));
  const still = sum(pictures);
  const scatter = sum(answers.map((one) => (one.seconds - rate * one.pictures) ** 2)) / (n - 1);
  const spread = Math.sqrt(scatter * (pictures.length + (n * still ** 2) / seen ** 2));
  const seconds = rate * still;
  const off = studentT95(n - 1) * spread;
  return { kind: 'guessed', seconds, from: Math.max(0, seconds - off), to: seconds + off, answers: n };
}

/** Null where nobody answered often enough yet. */
export function secondsAPicture(answers: readonly Answer[]): number | null {
  if (answers.length < ANSWERS_WANTED) return null;
  return sum(answers.map(({ seconds }) => seconds)) / sum(answers.map(({ pictures }) => pictures));
}

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0);

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;
