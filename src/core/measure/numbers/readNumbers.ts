/**
 * Reads the numbers on one subject: a first look at all of it, then the best candidates again, upright and at the sizes
 * the network knows best; looks of one length vote together. The second, upright look is what helps most at a lean.
 */
import type { PartsSeen } from '../bikeSeen.js';
import { halve, type PixelRect, type RgbImage } from '../images.js';
import type { NumberReading } from '../types.js';
import { chanceRight } from './chanceRight.js';
import { cutTurned } from './cutTurned.js';
import { decodeDigits } from './decodeDigits.js';
import { groupDigits, rated } from './groupDigits.js';
import { standsOn } from './standsOn.js';
import type { DigitGroup, DigitMaps, LookForDigits, SeenNumber } from './types.js';

export const NUMBERS_EDGE_PX = 448;
/** Heights at which a candidate's digits are looked at again. */
const AGAIN_HEIGHTS_PX = [28, 38];
const AGAIN_PX = { width: 192, height: 96 } as const;
const CANDIDATES = 2;
const LEAST_FIRST = 0.2;
const LEAST_AGAIN = 0.15;
const LEAST_CANDIDATE = 0.03;
/** A bike whose number is read this surely is not searched for another. */
const SURE = 0.8;
/** A candidate this much weaker than the best is not worth two looks. */
const LEAST_OF_BEST = 0.5;
/** The first look's vote against one of an upright look. */
const FIRST_VOTE = 0.7;
/** Readings weaker than this are not worth keeping; the working threshold for showing one stands far above. */
export const LEAST_READING = 0.05;
/** Below this chance that all digits are in sight the number is called incomplete. */
export const LEAST_WHOLE = 0.5;
const STRIDE_PX = 32;
/** From this shrinking on the picture is halved first, which costs a tenth of averaging while cutting out. */
const WORTH_HALVING_SCALE = 1.4;

/** Subjects read in a frame, the largest: those behind are read in frames of their own. */
export const MOST_READ = 3;
/** A digit is about a tenth of a bike's length; below eight pixels none is told from another. */
const LEAST_READ_EDGE_PX = 80;

/** Whether a subject is large enough for its number to be read. */
export const isWorthReading = ({ left, top, right, bottom }: PixelRect): boolean =>
  Math.max(right - left, bottom - top) >= LEAST_READ_EDGE_PX;

/**
 * @param rect the subject, in pixels of the picture
 * @param parts what is bike there, in the same pixels, where it is known: figures beside it are not read
 * @returns surest first, each text once
 */
export async function readNumbers(
  image: RgbImage,
  rect: PixelRect,
  look: LookForDigits,
  parts?: PartsSeen,
): Promise<NumberReading[]> {
  const seen = await seeNumbers(image, rect, look, parts);
  const readings = seen.map((number) => readingOf(number, image)).sort((a, b) => b.confidence - a.confidence);
  return readings.filter(
    ({ text, confidence }, index) =>
      confidence >= LEAST_READING && readings.findIndex((r) => r.text === text) === index,
  );
}

/** The candidates of a subject, each looked at again, before a chance is put on them. */
export async function seeNumbers(
  image: RgbImage,
  rect: PixelRect,
  look: LookForDigits,
  parts?: PartsSeen,
): Promise<SeenNumber[]> {
  const found = await firstLook(image, rect, look);
  const candidates = bestOf(parts ? found.filter((group) => standsOn(parts, rectAround(group))) : found);
  const seen: SeenNumber[] = [];
  for (const candidate of candidates) {
    const again: DigitGroup[] = [];
    for (const height of AGAIN_HEIGHTS_PX) {
      const seen = await lookAgain(image, candidate, height, look);
      if (seen) again.push(seen);
    }
    const number = fuse(candidate, again);
    seen.push(number);
    if (chanceRight(number) >= SURE) break;
  }
  return seen;
}

const groupsIn = (maps: DigitMaps, least: number): DigitGroup[] => groupDigits(decodeDigits(maps, least), maps);

/** What is seen, best first, in pixels of the picture. */
async function firstLook(image: RgbImage, rect: PixelRect, look: LookForDigits): Promise<DigitGroup[]> {
  const across = rect.right - rect.left;
  const down = rect.bottom - rect.top;
  const scale = Math.max(across, down) / NUMBERS_EDGE_PX;
  const inStrides = (size: number) => Math.max(STRIDE_PX, Math.round(size / scale / STRIDE_PX) * STRIDE_PX);
  const [width, height] = [inStrides(across), inStrides(down)];
  const middle = { x: rect.left + across / 2, y: rect.top + down / 2 };
  const source = scale > WORTH_HALVING_SCALE ? halve(image) : image;
  const share = source.width / image.width;
  const part = { x: middle.x * share, y: middle.y * share, angle: 0, scale: scale * share };
  const maps = await look(cutTurned(source, part, width, height), width, height);
  return groupsIn(maps, LEAST_FIRST).map((group) => ({
    ...group,
    x: middle.x + (group.x - width / 2) * scale,
    y: middle.y + (group.y - height / 2) * scale,
    height: group.height * scale,
  }));
}

function bestOf(groups: readonly DigitGroup[]): DigitGroup[] {
  const least = Math.max(LEAST_CANDIDATE, LEAST_OF_BEST * (groups[0]?.score ?? 0));
  return groups.filter(({ score }) => score >= least).slice(0, CANDIDATES);
}

async function lookAgain(
  image: RgbImage,
  { x, y, angle, height: digitHeight }: DigitGroup,
  wantedHeight: number,
  look: LookForDigits,
): Promise<DigitGroup | undefined> {
  const { width, height } = AGAIN_PX;
  const planes = cutTurned(image, { x, y, angle, scale: digitHeight / wantedHeight }, width, height);
  return groupsIn(await look(planes, width, height), LEAST_AGAIN)
    .filter((group) => Math.hypot(group.x - width / 2, group.y - height / 2) < 1.1 * wantedHeight)
    .sort((a, b) => b.found * b.number - a.found * a.number || b.score - a.score)[0];
}

/** Looks of the length with the most weight behind it vote digit by digit; disagreement about the length costs score. */
function fuse(first: DigitGroup, again: readonly DigitGroup[]): SeenNumber {
  const looks = [{ group: first, vote: FIRST_VOTE }, ...again.map((group) => ({ group, vote: 1 }))];
  const weightOf = (length: number) =>
    looks
      .filter(({ group }) => group.digits.length === length)
      .reduce(
        (sum, { group: g, vote }) => sum + vote * Math.sqrt(g.found * g.number) * (0.25 + 0.75 * g.lengthChance),
        0,
      );
  const length = [1, 2, 3].reduce((best, n) => (weightOf(n) > weightOf(best) ? n : best));
  const voting = looks.filter(({ group }) => group.digits.length === length);
  const chosen = voting.length > 0 ? voting : looks.slice(0, 1);
  const total = chosen.reduce((sum, { vote }) => sum + vote, 0);
  const mean = (of: (group: DigitGroup) => number) =>
    chosen.reduce((sum, { group, vote }) => sum + vote * of(group), 0) / total;
  const fused = rated({
    ...first,
    digits: chosen[0]!.group.digits.map((chances, place) =>
      chances.map((_, digit) => mean((group) => group.digits[place]![digit]!)),
    ),
    found: mean(({ found }) => found),
    number: mean(({ number }) => number),
    lengthChance: mean(({ lengthChance }) => lengthChance),
    whole: mean(({ whole }) => whole),
  });
  const agreement = total / (FIRST_VOTE + AGAIN_HEIGHTS_PX.length);
  return { ...fused, agreement };
}

/** A digit's width in heights, with the gap to the next: of ordinary figures, by eye. */
const DIGIT_PITCH = 0.75;

function rectAround({ digits, x, y, height, angle }: DigitGroup): PixelRect {
  const half = { u: (DIGIT_PITCH * digits.length * height) / 2, v: height / 2 };
  const cos = Math.abs(Math.cos(angle));
  const sin = Math.abs(Math.sin(angle));
  const [dx, dy] = [half.u * cos + half.v * sin, half.u * sin + half.v * cos];
  return { left: x - dx, top: y - dy, right: x + dx, bottom: y + dy };
}

function readingOf(group: SeenNumber, { width, height }: RgbImage): NumberReading {
  const around = rectAround(group);
  const clamp = (value: number) => Math.min(1, Math.max(0, value));
  const [left, top] = [clamp(around.left / width), clamp(around.top / height)];
  return {
    text: group.text,
    confidence: chanceRight(group),
    isWhole: group.whole >= LEAST_WHOLE,
    box: [left, top, clamp(around.right / width) - left, clamp(around.bottom / height) - top],
    turnedDeg: (group.angle * 180) / Math.PI,
  };
}
