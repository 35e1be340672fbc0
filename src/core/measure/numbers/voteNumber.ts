/**
 * One number for a rider from the readings of all frames. Independent readings of the same text add up; the entry list is
 * a prior; a plate left from another race loses where most readings say otherwise; what stays close is said to be close.
 */
import type { NumberReading } from '../types.js';

export type NumberVote =
  | { readonly kind: 'read'; readonly text: string; readonly confidence: number; readonly readings: number }
  /** Two texts with about as much behind them, likelier first: a question. */
  | { readonly kind: 'contradicted'; readonly texts: readonly [string, string] }
  | { readonly kind: 'unread'; readonly reason: 'no-readings' | 'only-incomplete' | 'too-weak' };

/** One frame can be wrong with conviction: its say is limited. */
const MOST_CONFIDENCE = 0.97;
const LEAST_CONFIDENCE = 0.02;
/** A number that is no entry needs this much more, in log-odds: misread digits seldom make an entry. No source, by reasoning. */
const NOT_AN_ENTRY = Math.log(6);
/** A text that leads by less is contradicted. */
const CLEAR_LEAD = Math.log(3);
/** What a further reading adds, against an independent one: frames of one burst err together. No source, by reasoning. */
const BURST_SHARE = 0.7;
/** The chance below which nothing is said. */
const LEAST_SAID = 0.5;

const logOdds = (chance: number): number => {
  const p = Math.min(MOST_CONFIDENCE, Math.max(LEAST_CONFIDENCE, chance));
  return Math.log(p / (1 - p));
};

/** @param readings of one rider, one a frame or more. @param entries numbers on the entry list, where there is one */
export function voteNumber(readings: readonly NumberReading[], entries?: readonly string[]): NumberVote {
  if (readings.length === 0) return { kind: 'unread', reason: 'no-readings' };
  const whole = readings.filter(({ isWhole, text }) => isWhole && !text.includes('?'));
  if (whole.length === 0) return { kind: 'unread', reason: 'only-incomplete' };
  const [first, second] = ranked(whole, entries);
  const sureness = 1 / (1 + Math.exp(-first!.weight));
  if (sureness < LEAST_SAID) return { kind: 'unread', reason: 'too-weak' };
  if (second && second.weight > 0 && first!.weight - second.weight < CLEAR_LEAD)
    return { kind: 'contradicted', texts: [first!.text, second.text] };
  return { kind: 'read', text: first!.text, confidence: sureness, readings: first!.count };
}

interface Candidate {
  readonly text: string;
  readonly weight: number;
  readonly count: number;
}

/** Readings against a text count as what they say for another: the lead between two is what decides. */
function ranked(readings: readonly NumberReading[], entries: readonly string[] | undefined): Candidate[] {
  const texts = [...new Set(readings.map(({ text }) => text))];
  return texts
    .map((text) => {
      const own = readings.filter((reading) => reading.text === text);
      const best = Math.max(...own.map(({ confidence }) => logOdds(confidence)));
      const more = own.reduce((sum, { confidence }) => sum + Math.max(0, logOdds(confidence)), 0) - Math.max(0, best);
      const prior = entries && entries.length > 0 && !entries.includes(text) ? -NOT_AN_ENTRY : 0;
      return { text, weight: best + BURST_SHARE * more + prior, count: own.length };
    })
    .sort((a, b) => b.weight - a.weight || a.text.localeCompare(b.text, 'en'));
}

/** Two bikes may carry the same number in different classes: the key of a number. */
export const numberKey = (event: string, className: string, number: string): string =>
  [event, className, number].map((part) => encodeURIComponent(part.trim())).join('/');
