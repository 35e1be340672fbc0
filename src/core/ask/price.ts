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

/** What brings less is worth a look only where it is likely; it then comes after all that brings more. */
export const LEAST_GAIN_FRAMES = 0.5;
/** Somebody who looks at the screen sees at once what is so likely, and misses it where it is not asked. By reasoning. */
export const LEAST_CHANCE = 0.3;

const secondsFor = (shown: number): number => YES_NO_S + ((FULL_LINE_UP_S - YES_NO_S) * (shown - 1)) / (MOST_SHOWN - 1);

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

/** Two riders called one by mistake spoil both sets, so a pair that is hardly likely is better not asked about. */
export const gainOf = ({ chance, frames }: Gaining): number => (chance - 2 * WRONG_ANSWERS * (1 - chance)) * frames;

/** Most gaining first: whoever is worth asking about alone costs less of a line-up than of a screen of its own. */
export const worthShowing = <One extends Gaining>(candidates: readonly One[]): readonly One[] =>
  candidates
    .filter((one) => gainOf(one) >= LEAST_GAIN_FRAMES || one.chance >= LEAST_CHANCE)
    .sort((a, b) => gainOf(b) - gainOf(a))
    .slice(0, MOST_SHOWN);

export const byWorth = (a: Price & { readonly id: string }, b: Price & { readonly id: string }): number =>
  b.worth - a.worth || (a.id < b.id ? -1 : 1);
