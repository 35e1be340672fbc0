/**
 * What an answer is worth: frames that are expected to come right per second of a person's time. The one place where screens
 * of all kinds are put in order.
 */
import type { Price } from './types.js';

/** Assumed, no source: a yes or no takes a practised person so long. */
const YES_NO_S = 2;
/** Assumed, no source: so does a line-up of {@link MOST_SHOWN}; one of fewer takes less by its share. */
const FULL_LINE_UP_S = 6;
export const MOST_SHOWN = 12;

/** Frames a second of a person's time: what brings less is not asked, and whoever adds less to a screen is not shown on it. */
export const LEAST_WORTH = 0.05;
const ONE_MORE_S = (FULL_LINE_UP_S - YES_NO_S) / (MOST_SHOWN - 1);

const secondsFor = (shown: number): number => YES_NO_S + ONE_MORE_S * (shown - 1);

export function priceOf(gainFrames: number, shown: number): Price {
  const seconds = secondsFor(Math.max(1, shown));
  return { gainFrames, seconds, worth: gainFrames / seconds };
}

interface Gaining {
  readonly chance: number;
  readonly frames: number;
}

/** Assumed, no source: of a tired person's answers so many are wrong. */
const WRONG_ANSWERS = 0.02;

/** Two riders called one by mistake spoil both sets; a wrong answer is one of all that a screen asks for. */
export const gainOf = ({ chance, frames }: Gaining, shown: number): number =>
  (chance - (2 * WRONG_ANSWERS * (1 - chance)) / shown) * frames;

/** Whether one more is worth the look, beside others on one screen. */
export const isWorthShowing = (gainFrames: number): boolean => gainFrames >= LEAST_WORTH * ONE_MORE_S;

/** Most gaining first. */
export const worthShowing = <One extends Gaining>(candidates: readonly One[]): readonly One[] =>
  candidates
    .map((one) => ({ one, gain: gainOf(one, MOST_SHOWN) }))
    .filter(({ gain }) => isWorthShowing(gain))
    .sort((a, b) => b.gain - a.gain)
    .slice(0, MOST_SHOWN)
    .map(({ one }) => one);

export const byWorth = (a: Price & { readonly id: string }, b: Price & { readonly id: string }): number =>
  b.worth - a.worth || (a.id < b.id ? -1 : 1);
