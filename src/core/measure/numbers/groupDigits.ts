/** Digits whose ideas of their number's middle agree are one number, read along their common direction. */
import { numberScoreAt } from './decodeDigits.js';
import type { Digit, DigitGroup, DigitMaps } from './types.js';

const MOST_DIGITS = 3;
/** Digits of one number: heights within this factor, turned alike to this cosine, no further apart than this many heights. */
const MOST_HEIGHT_RATIO = 1.7;
const LEAST_ALIKE = 0.8;
const MOST_APART = 1.9;
/** A single digit is often part of something else. */
const SINGLE_DISCOUNT = 0.75;

export function groupDigits(digits: readonly Digit[], maps: DigitMaps): DigitGroup[] {
  const free = new Set([...digits].sort((a, b) => b.score - a.score));
  const groups: DigitGroup[] = [];
  for (const first of free) {
    const members = [first];
    free.delete(first);
    for (let next = bestNext(members, free); next && members.length <= MOST_DIGITS; next = bestNext(members, free)) {
      members.push(next);
      free.delete(next);
    }
    groups.push(groupOf(strongest(members), maps));
  }
  return groups.sort((a, b) => b.score - a.score);
}

const strongest = (members: Digit[]): Digit[] => members.sort((a, b) => b.score - a.score).slice(0, MOST_DIGITS);
const meanOf = (members: readonly Digit[], of: (digit: Digit) => number): number =>
  members.reduce((sum, digit) => sum + of(digit), 0) / members.length;

function bestNext(members: readonly Digit[], free: ReadonlySet<Digit>): Digit | null {
  let best: Digit | null = null;
  let least = 1;
  for (const digit of free) {
    const cost = costOfJoining(members, digit);
    if (cost < least) [best, least] = [digit, cost];
  }
  return best;
}

/** Below 1 where the digit belongs to the group; infinite where it cannot. */
function costOfJoining(members: readonly Digit[], digit: Digit): number {
  const first = members[0]!;
  const height = meanOf(members, ({ height: h }) => h);
  const ratio = digit.height / height;
  if (digit.score < 0.5 * first.score || ratio > MOST_HEIGHT_RATIO || ratio < 1 / MOST_HEIGHT_RATIO) return Infinity;
  if (digit.cos * first.cos + digit.sin * first.sin < LEAST_ALIKE) return Infinity;
  const apart = Math.min(...members.map(({ x, y }) => Math.hypot(digit.x - x, digit.y - y)));
  if (apart > MOST_APART * height) return Infinity;
  const offLine = Math.abs((digit.y - first.y) * first.cos - (digit.x - first.x) * first.sin) / height;
  const disagreement =
    Math.hypot(
      digit.numberX - meanOf(members, ({ numberX }) => numberX),
      digit.numberY - meanOf(members, ({ numberY }) => numberY),
    ) / height;
  return disagreement / 0.55 + 1.5 * Math.max(0, offLine - 0.35) - 0.25 * digit.score;
}

function groupOf(members: readonly Digit[], maps: DigitMaps): DigitGroup {
  const cos = meanOf(members, (digit) => digit.cos);
  const sin = meanOf(members, (digit) => digit.sin);
  const ordered = [...members].sort((a, b) => (a.x - b.x) * cos + (a.y - b.y) * sin);
  const mean = (of: (digit: Digit) => number) => meanOf(members, of);
  return rated({
    digits: ordered.map(({ chances }) => chances),
    x: mean(({ x }) => x),
    y: mean(({ y }) => y),
    height: mean(({ height }) => height),
    angle: Math.atan2(sin, cos),
    found: Math.min(...members.map(({ score }) => score)),
    number: numberScoreAt(
      maps,
      mean(({ numberX }) => numberX),
      mean(({ numberY }) => numberY),
    ),
    lengthChance: mean(({ lengths }) => lengths[members.length - 1]!),
    whole: mean(({ whole }) => whole),
  });
}

/** Adds the text and a score 0–1: found, a number at all, of this length, with these digits. */
export function rated(group: Omit<DigitGroup, 'text' | 'score'>): DigitGroup {
  const sure = group.digits.reduce((product, chances) => product * Math.max(...chances), 1);
  const isNumber = Math.sqrt(group.found * Math.max(0.05, group.number));
  const single = group.digits.length === 1 ? SINGLE_DISCOUNT : 1;
  return {
    ...group,
    text: group.digits.map((chances) => chances.indexOf(Math.max(...chances))).join(''),
    score: isNumber * sure * (0.25 + 0.75 * group.lengthChance) * single,
  };
}
