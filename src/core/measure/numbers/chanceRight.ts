/**
 * How likely a reading is right: a logistic curve over what the looks said, fitted by `tools/vision/numbers/calibrate.ts`
 * on invented scenes held back from training. No photograph had a part in it.
 */
import type { SeenNumber } from './types.js';

/** What the curve weighs. All but the last speak for the reading. */
export const CLUES = ['constant', 'number', 'leastSureDigit', 'length', 'whole', 'agreement', 'isSingle'] as const;

const WEIGHTS: Readonly<Record<(typeof CLUES)[number], number>> = {
  constant: -2.95,
  number: 0.79,
  leastSureDigit: 0.52,
  length: 0.35,
  whole: 0.32,
  agreement: 0.54,
  isSingle: -1.44,
};

/** The working confidence: from here on, more likely right than not, a reading is shown and searched by. */
export const LEAST_SHOWN = 0.5;

/** Surer than this no clue is. */
const MOST_SURE = 0.999;

const logOdds = (chance: number): number => {
  const p = Math.min(MOST_SURE, Math.max(1 - MOST_SURE, chance));
  return Math.log(p / (1 - p));
};

/** By how much the likeliest figure leads the next, in logarithms. */
function leadOf(chances: readonly number[]): number {
  const [first, second] = [...chances].sort((a, b) => b - a);
  return Math.log((first! + 1 - MOST_SURE) / (second! + 1 - MOST_SURE));
}

/** Of one number, in the order of `CLUES`. A number is no surer than its least sure digit. */
export const cluesOf = ({ number, digits, lengthChance, whole, agreement }: SeenNumber): number[] => [
  1,
  logOdds(number),
  Math.min(...digits.map(leadOf)),
  logOdds(lengthChance),
  logOdds(whole),
  agreement,
  digits.length === 1 ? 1 : 0,
];

/** 0–1. */
export function chanceRight(seen: SeenNumber): number {
  const clues = cluesOf(seen);
  const sum = CLUES.reduce((total, name, index) => total + WEIGHTS[name] * clues[index]!, 0);
  return 1 / (1 + Math.exp(-sum));
}
