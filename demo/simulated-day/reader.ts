/**
 * Numbers on bikes, and what a reader makes of them frame by frame. Passes are easy or hard (lean, light, a knee before
 * the plate), so readings of one pass go together, as they do with a real reader.
 */
import type { Box, NumberReading } from '../../src/core/measure/types.js';
import { type Random, seededRandom } from '../../src/core/numeric/random.js';
import type { DayOptions } from './options.js';
import type { SimulatedRider } from './trackDay.js';

export interface Reader {
  /** Per rider; null where the bike carries none. */
  readonly numbers: readonly (string | null)[];
  /** What is read on a bike in one frame. */
  read(rider: number, pass: string, box: Box): readonly NumberReading[];
}

/** Share of passes that are easy, and how much better they are read than the mean. */
const EASY_SHARE = 0.6;
const EASY_GAIN = 1.28;
/** Of frames not read whole, those in which a part is. */
const PART_SHARE = 0.2;

export function makeReader(o: DayOptions, riders: readonly SimulatedRider[]): Reader | null {
  const { reader } = o;
  if (reader === undefined) return null;
  const numbers = numbersOf(o, riders, reader.numberedShare);
  const random = seededRandom(o.seed * 9311 + 31);
  const easy = new Map<string, boolean>();
  const isEasy = (pass: string): boolean => {
    if (!easy.has(pass)) easy.set(pass, random.chance(EASY_SHARE));
    return easy.get(pass)!;
  };
  const hardGain = (1 - EASY_SHARE * EASY_GAIN) / (1 - EASY_SHARE);
  return {
    numbers,
    read(rider, pass, box) {
      const number = numbers[rider] ?? null;
      if (number === null)
        return random.chance(reader.falseShare) ? [reading(anyNumber(random), random.between(0.4, 0.85), box)] : [];
      const chance = reader.readShare * (isEasy(pass) ? EASY_GAIN : hardGain);
      if (!random.chance(chance)) return partly(number, random, box);
      if (random.chance(reader.wrongShare)) return [reading(misread(number, random), random.between(0.5, 0.9), box)];
      return [reading(number, random.between(0.75, 0.995), box)];
    },
  };
}

/** Unique within a group; two groups may share one, as two classes of a race meeting do. */
function numbersOf(o: DayOptions, riders: readonly SimulatedRider[], share: number): readonly (string | null)[] {
  const random = seededRandom(o.seed * 4721 + 7);
  const used = new Set<string>();
  return riders.map(({ fleet, groups: [group] }) => {
    if (!random.chance(share) || fleet >= 0) return null;
    let number = anyNumber(random);
    while (used.has(`${group} ${number}`)) number = anyNumber(random);
    used.add(`${group} ${number}`);
    return number;
  });
}

const anyNumber = (random: Random): string => String(random.integer(1, random.chance(0.75) ? 99 : 399));

/** One digit taken for another. */
function misread(number: string, random: Random): string {
  const at = random.integer(0, number.length - 1);
  const other = random.oneOf([...'123456789'].filter((digit) => digit !== number[at]));
  return number.slice(0, at) + other + number.slice(at + 1);
}

function partly(number: string, random: Random, box: Box): readonly NumberReading[] {
  if (number.length < 2 || !random.chance(PART_SHARE)) return [];
  const text = random.chance(0.5) ? `?${number.slice(1)}` : `${number.slice(0, -1)}?`;
  return [{ ...reading(text, random.between(0.2, 0.6), box), isWhole: false }];
}

const reading = (text: string, confidence: number, [left, top, width, height]: Box): NumberReading => ({
  text,
  confidence,
  isWhole: true,
  box: [left + 0.3 * width, top + 0.4 * height, 0.2 * width, 0.15 * height],
  turnedDeg: 0,
});
