/** The choosing sheet's sentences. */
import type { TimeLeft } from '../../core/choose/types.js';
import { inWords } from '../../core/smallNumbers.js';
import type { RiderToChooseView, ToChooseFrameView } from '../../server/choosing/types.js';

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
const passWords = (count: number): string => `${inWords(count)} ${count === 1 ? 'pass' : 'passes'}`;

export function headlineOf({ rider, passes, isBelowLeast }: RiderToChooseView, kept: number): string {
  const who = capital(rider.livery.words);
  if (kept === 0) return `${who}: nothing is kept from ${passWords(passes.length)}.`;
  const few = isBelowLeast ? 'only ' : '';
  return `${who}: ${few}${inWords(kept)} to keep from ${passWords(passes.length)}.`;
}

export const nobodyCalled = (key: string): string =>
  `Expected a rider of this meeting in the address but nobody is called “${key}” now; whoever has their turn stands here. Find the one you look for among the riders.`;

export const passedOverWords = (count: number): string =>
  `${capital(inWords(count))} before this one ${count === 1 ? 'is' : 'are'} left for the end.`;

/** What a frame is, in the words that stand over its picture. */
export const frameKind = ({ isGood, isSlow }: ToChooseFrameView): string =>
  isGood ? (isSlow ? 'slow frame' : 'sure frame') : 'not sure to be good';

const minutesOf = (seconds: number): number => Math.max(1, Math.round(seconds / 60));

export function timeWords(time: TimeLeft): string {
  switch (time.kind) {
    case 'done':
      return 'Nothing is left.';
    case 'not-known-yet':
      return `How long it takes is told after ${inWords(time.wanted)} sets; ${inWords(time.answers)} so far.`;
    case 'guessed':
      return `About ${minutesOf(time.seconds)} min at your pace`;
  }
}

/** Between what it lies nine times in ten, and what it is taken from. */
export function timeReasons(time: Extract<TimeLeft, { kind: 'guessed' }>): readonly string[] {
  const [from, to] = [minutesOf(time.from), minutesOf(time.to)];
  const range = from === to ? 'hardly a minute more or less' : `between ${from} and ${to} min`;
  return [`${range} nine times in ten, by your last ${inWords(time.answers)} sets`];
}
