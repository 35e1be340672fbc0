/**
 * Numbers as evidence of who is who. What was read in a pass speaks for a text with so many nats; a rider carries one
 * number or none, so readings of one text add up over a rider's passes, and other texts are misread digits or plates of an
 * old race. All in log-odds against any other number, which is as likely as any (or any on the entry list).
 */
import type { NumberReading } from '../../measure/types.js';
import type { Bikes } from '../bikes.js';
import type { RawPass } from '../passes.js';

/** Texts and what speaks for each, in nats; null where nothing was read whole. */
export type NumberEvidence = ReadonlyMap<string, number> | null;

/** Numbers that bikes carry where there is no entry list: ordinary ones have two digits, some three. No source. */
const USUAL_NUMBERS = 200;
/** One frame can be wrong with conviction: its say is limited. */
const MOST_CONFIDENCE = 0.97;
/** What a further frame of the pass adds, against one of another pass: they err together. As in `voteNumber`. */
const BURST_SHARE = 0.7;
/** One pass says no more than this. */
const MOST_FROM_PASS = 8;
/** A number that is not on the entry list: misread digits seldom make one that is. As in `voteNumber`. */
const NOT_AN_ENTRY = Math.log(6);

export interface PassNumbers {
  readonly ofPass: readonly NumberEvidence[];
  /** Log of how many numbers are about. */
  readonly logNumbers: number;
}

/** @param entries numbers on the entry list; null where there is none. */
export function readPasses(passes: readonly RawPass[], bikes: Bikes, entries: readonly string[] | null): PassNumbers {
  const listed = entries === null || entries.length === 0 ? null : new Set(entries);
  const logNumbers = Math.log(listed === null ? USUAL_NUMBERS : Math.max(2, listed.size));
  const ofPass = passes.map(({ bikes: list }) =>
    evidenceOf(
      list.flatMap((i) => bikes.subjects[i]!.numbers ?? []),
      listed,
      logNumbers,
    ),
  );
  return { ofPass, logNumbers };
}

function evidenceOf(
  readings: readonly NumberReading[],
  listed: ReadonlySet<string> | null,
  logNumbers: number,
): NumberEvidence {
  const odds = new Map<string, number[]>();
  for (const { text, confidence, isWhole } of readings) {
    if (!isWhole || text.includes('?')) continue;
    const chance = Math.min(MOST_CONFIDENCE, confidence);
    const list = odds.get(text) ?? [];
    list.push(Math.log(chance / (1 - chance)));
    odds.set(text, list);
  }
  const found = new Map<string, number>();
  for (const [text, list] of odds) {
    const best = Math.max(...list);
    const more = list.reduce((sum, value) => sum + Math.max(0, value), 0) - Math.max(0, best);
    const prior = listed === null || listed.has(text) ? 0 : -NOT_AN_ENTRY;
    const nats = Math.min(MOST_FROM_PASS, best + BURST_SHARE * more + logNumbers + prior);
    if (nats > 0) found.set(text, nats);
  }
  return found.size === 0 ? null : found;
}

export function addNumbers(a: NumberEvidence, b: NumberEvidence): NumberEvidence {
  if (a === null) return b;
  if (b === null) return a;
  const sum = new Map(a);
  for (const [text, nats] of b) sum.set(text, (sum.get(text) ?? 0) + nats);
  return sum;
}

/** How much better the readings are explained by some one number than as misread, all numbers equally likely. */
export function numberEvidence(numbers: NumberEvidence, logNumbers: number): number {
  if (numbers === null) return 0;
  let sum = 1;
  for (const nats of numbers.values()) sum += Math.exp(nats - logNumbers);
  return Math.log(sum);
}
