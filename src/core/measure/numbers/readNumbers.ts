/**
 * Reads the numbers on one subject: a first look at all of it, then the best candidates again, upright and at the sizes
 * the network knows best; looks of one length vote together. The second, upright look is what helps most at a lean.
 */
import type { PixelRect, RgbImage } from '../images.js';
import type { NumberReading } from '../types.js';
import { cutTurned } from './cutTurned.js';
import { decodeDigits } from './decodeDigits.js';
import { groupDigits, rated } from './groupDigits.js';
import type { DigitGroup, DigitMaps, LookForDigits } from './types.js';

export const NUMBERS_EDGE_PX = 448;
/** Heights at which a candidate's digits are looked at again. */
const AGAIN_HEIGHTS_PX = [28, 38];
const AGAIN_PX = { width: 192, height: 96 } as const;
const CANDIDATES = 2;
const LEAST_FIRST = 0.2;
const LEAST_AGAIN = 0.15;
const LEAST_CANDIDATE = 0.03;
/** The first look's vote against one of an upright look. */
const FIRST_VOTE = 0.7;
/** Readings weaker than this are not worth keeping; the working threshold for showing one stands far above. */
export const LEAST_READING = 0.05;
/** Below this chance that all digits are in sight the number is called incomplete. */
const LEAST_WHOLE = 0.5;
const STRIDE_PX = 32;

/** @param rect the subject, in pixels of the picture. @returns surest first, each text once */
export async function readNumbers(image: RgbImage, rect: PixelRect, look: LookForDigits): Promise<NumberReading[]> {
  const candidates = await firstLook(image, rect, look);
  const read: DigitGroup[] = [];
  for (const candidate of candidates) {
    const again: DigitGroup[] = [];
    for (const height of AGAIN_HEIGHTS_PX) {
      const seen = await lookAgain(image, candidate, height, look);
      if (seen) again.push(seen);
    }
    read.push(fuse(candidate, again));
  }
  read.sort((a, b) => b.score - a.score);
  return read
    .filter(({ text, score }, index) => score >= LEAST_READING && read.findIndex((r) => r.text === text) === index)
    .map((group) => readingOf(group, image));
}

const groupsIn = (maps: DigitMaps, least: number): DigitGroup[] => groupDigits(decodeDigits(maps, least), maps);

/** Candidates in pixels of the picture. */
async function firstLook(image: RgbImage, rect: PixelRect, look: LookForDigits): Promise<DigitGroup[]> {
  const across = rect.right - rect.left;
  const down = rect.bottom - rect.top;
  const scale = Math.max(across, down) / NUMBERS_EDGE_PX;
  const inStrides = (size: number) => Math.max(STRIDE_PX, Math.round(size / scale / STRIDE_PX) * STRIDE_PX);
  const [width, height] = [inStrides(across), inStrides(down)];
  const middle = { x: rect.left + across / 2, y: rect.top + down / 2 };
  const maps = await look(cutTurned(image, { ...middle, angle: 0, scale }, width, height), width, height);
  return groupsIn(maps, LEAST_FIRST)
    .filter(({ score }) => score >= LEAST_CANDIDATE)
    .slice(0, CANDIDATES)
    .map((group) => ({
      ...group,
      x: middle.x + (group.x - width / 2) * scale,
      y: middle.y + (group.y - height / 2) * scale,
      height: group.height * scale,
    }));
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
function fuse(first: DigitGroup, again: readonly DigitGroup[]): DigitGroup {
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
  return { ...fused, score: fused.score * (0.4 + 0.6 * agreement) };
}

/** A digit's width in heights, with the gap to the next: of ordinary figures, by eye. */
const DIGIT_PITCH = 0.75;

function readingOf(group: DigitGroup, { width, height }: RgbImage): NumberReading {
  const half = { u: (DIGIT_PITCH * group.digits.length * group.height) / 2, v: group.height / 2 };
  const cos = Math.abs(Math.cos(group.angle));
  const sin = Math.abs(Math.sin(group.angle));
  const [dx, dy] = [half.u * cos + half.v * sin, half.u * sin + half.v * cos];
  const clamp = (value: number) => Math.min(1, Math.max(0, value));
  const [left, top] = [clamp((group.x - dx) / width), clamp((group.y - dy) / height)];
  return {
    text: group.text,
    confidence: Math.min(1, group.score),
    isWhole: group.whole >= LEAST_WHOLE,
    box: [left, top, clamp((group.x + dx) / width) - left, clamp((group.y + dy) / height) - top],
    turnedDeg: (group.angle * 180) / Math.PI,
  };
}
