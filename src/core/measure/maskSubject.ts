/**
 * Which pixels of a box belong to the subject: as the bike network says, drawn finer by colour, or where no network has
 * spoken by colour alone: each colour's odds of lying inside the box against outside,
 * together with where in the box the pixel lies, three times over (the colour model of an iterated segmentation such as
 * C. Rother et al., "GrabCut", SIGGRAPH 2004, with histograms in place of mixtures and a blur in place of the graph cut).
 * Works on a picture of 160 px long edge; a few milliseconds.
 */
import type { SubjectBoxes } from './assembleSubjects.js';
import { helmetShareOf, type PartsSeen, partsOver } from './bikeSeen.js';
import { fitLongEdge, type PixelRect, type RgbImage, rectOf, resize } from './images.js';
import type { Box } from './types.js';

const LONG_EDGE = 160;
/** Surroundings looked at, as a share of the box on each side. */
const CONTEXT = 0.25;
const LEVELS = 16;
const BINS = LEVELS ** 3;
const BY_COLOUR = { rounds: 3, colourWeight: 1.6 } as const;
/** A network's mask has 48 × 48 points; colour only draws its edge finer. */
const DRAWN_FINER: Manner = { rounds: 1, colourWeight: 0.6, radius: 1 };
const PLACE_WEIGHT = 0.5;
/**
 * The network has never seen a bike that nobody rides, and finds clothes on it, but hardly a helmet: on rendered riders that
 * covers a twentieth of the outline, and a hundredth where it is half hidden.
 */
const LEAST_HELMET = 0.01;
/** Radius of the smoothing of the odds, as a share of the width. */
const SMOOTHING = 0.012;

export interface SubjectMask {
  /** The cut-out the mask lies on. */
  readonly picture: RgbImage;
  /** Where the cut-out lies in the whole picture, in its pixels. */
  readonly rect: PixelRect;
  /** Probability 0–1 that the pixel is the subject, row by row. */
  readonly inside: Float32Array;
  /** Of what is the subject, the probability 0–1 that it is worn, and that it is the helmet; absent where nobody has said. */
  readonly worn?: Float32Array;
  readonly helmet?: Float32Array;
  /** False where whoever has said it saw nobody ride: what looks worn then is no clothes. */
  readonly isRidden?: boolean;
}

/** @param seen what the bike network said, where it was asked; its cut-out lies in `image` */
export function maskSubject(image: RgbImage, subject: SubjectBoxes, seen?: PartsSeen): SubjectMask {
  const rect = rectOf(subject.box, image, CONTEXT);
  const { width, height } = fitLongEdge(rect, LONG_EDGE);
  const picture = resize(image, rect, width, height);
  const boxes = subject.riderBox ? [subject.bikeBox, subject.riderBox] : [subject.box];
  const place = priorOf(
    boxes.map((box) => localBox(box, image, rect, width, height)),
    width,
    height,
  );
  const bins = colourBins(picture);
  if (!seen) {
    const radius = Math.max(1, Math.round(width * SMOOTHING));
    return { picture, rect, inside: divideByColour(bins, place, picture, { ...BY_COLOUR, radius }) };
  }
  const { whole, worn, helmet } = partsOver(seen, rect, picture);
  const mask = { picture, rect, inside: divideByColour(bins, joinOdds(whole, place), picture, DRAWN_FINER) };
  return { ...mask, worn, helmet, isRidden: subject.riderBox !== undefined || helmetShareOf(seen) >= LEAST_HELMET };
}

/** What a network says of a pixel, and half of what its place in the boxes says: the network has seen the place, too. */
function joinOdds(said: Float32Array, place: Float32Array): Float32Array {
  return said.map((share, index) => {
    const odds = oddsOf(Math.min(1 - OUTSIDE, Math.max(OUTSIDE, share))) + PLACE_WEIGHT * oddsOf(place[index]!);
    return Math.min(1 - OUTSIDE, Math.max(OUTSIDE, logistic(odds)));
  });
}

/** A 0–1 box of the whole picture, in pixels of the cut-out. */
function localBox(box: Box, image: RgbImage, rect: PixelRect, width: number, height: number): Box {
  const scaleX = width / (rect.right - rect.left);
  const scaleY = height / (rect.bottom - rect.top);
  return [
    (box[0] * image.width - rect.left) * scaleX,
    (box[1] * image.height - rect.top) * scaleY,
    box[2] * image.width * scaleX,
    box[3] * image.height * scaleY,
  ];
}

/** What lies outside every box, before any colour: half of the pixels or more, in single precision as they are kept. */
const OUTSIDE = Math.fround(0.02);
const ODDS_OUTSIDE = Math.log(OUTSIDE / (1 - OUTSIDE));
const oddsOf = (share: number): number => (share === OUTSIDE ? ODDS_OUTSIDE : Math.log(share / (1 - share)));

/**
 * Before any colour: 0.85 in the middle of a box, falling to about 0.3 at its corners, 0.02 outside. Where bike and rider
 * are known apart, a pixel takes the larger of the two, so the empty corners beside the rider count as outside.
 */
function priorOf(boxes: readonly Box[], width: number, height: number): Float32Array {
  const prior = new Float32Array(width * height).fill(OUTSIDE);
  for (const [left, top, boxWidth, boxHeight] of boxes) {
    for (let y = 0; y < height; y += 1) {
      const v = Math.abs((y + 0.5 - top - boxHeight / 2) / (boxHeight / 2));
      if (v > 1) continue;
      for (let x = 0; x < width; x += 1) {
        const u = Math.abs((x + 0.5 - left - boxWidth / 2) / (boxWidth / 2));
        if (u > 1) continue;
        const value = Math.max(0.12, 0.85 - (0.55 * (u * u + v * v)) / 1.2);
        if (value > prior[y * width + x]!) prior[y * width + x] = value;
      }
    }
  }
  return prior;
}

/** The colour of each pixel in 16 × 16 × 16 bins. */
export function colourBins({ data, width, height }: RgbImage): Uint16Array {
  const bins = new Uint16Array(width * height);
  for (let index = 0, at = 0; index < bins.length; index += 1, at += 3) {
    bins[index] = ((data[at]! >> 4) << 8) | ((data[at + 1]! >> 4) << 4) | (data[at + 2]! >> 4);
  }
  return bins;
}

export interface Manner {
  readonly rounds: number;
  /** How far colour may outvote place. */
  readonly colourWeight: number;
  /** Of the smoothing of the odds, pixels. */
  readonly radius: number;
}

/**
 * Parts the pixels in two by colour and place.
 * @param prior chance of the first part by place alone
 * @param counted how much each pixel tells about the colours of the two parts; all the same where left out
 */
export function divideByColour(
  bins: Uint16Array,
  prior: Float32Array,
  { width, height }: { readonly width: number; readonly height: number },
  { rounds, colourWeight, radius }: Manner,
  counted?: Float32Array,
): Float32Array {
  const placeOdds = new Float32Array(prior.length);
  for (let index = 0; index < prior.length; index += 1) placeOdds[index] = oddsOf(prior[index]!);
  const inside = prior.slice();
  for (let round = 0; round < rounds; round += 1) {
    const odds = colourOdds(bins, inside, counted);
    const raw = new Float32Array(bins.length);
    for (let index = 0; index < bins.length; index += 1) raw[index] = odds[bins[index]!]!;
    const smooth = boxBlur(raw, width, height, radius);
    for (let index = 0; index < bins.length; index += 1) {
      inside[index] = logistic(colourWeight * smooth[index]! + placeOdds[index]!);
    }
  }
  return inside;
}

/** 1 / (1 + e^−x) from a table in steps of 1/32; beyond ±8 it is 0 or 1 to three decimals. */
const LOGISTIC_REACH = 8;
const LOGISTIC_STEPS = 32;
const LOGISTIC = Float32Array.from(
  { length: 2 * LOGISTIC_REACH * LOGISTIC_STEPS + 1 },
  (_, step) => 1 / (1 + Math.exp(LOGISTIC_REACH - step / LOGISTIC_STEPS)),
);

function logistic(x: number): number {
  const step = (x + LOGISTIC_REACH) * LOGISTIC_STEPS;
  if (step <= 0) return LOGISTIC[0]!;
  return step >= LOGISTIC.length - 1 ? LOGISTIC[LOGISTIC.length - 1]! : LOGISTIC[(step + 0.5) | 0]!;
}

/** Log of (share of the first part in this colour) / (share of the second in it). */
function colourOdds(bins: Uint16Array, inside: Float32Array, counted?: Float32Array): Float32Array {
  const front = new Float32Array(BINS);
  const back = new Float32Array(BINS);
  let frontSum = 0;
  let backSum = 0;
  for (let index = 0; index < bins.length; index += 1) {
    const weight = counted ? counted[index]! : 1;
    const first = weight * inside[index]!;
    front[bins[index]!]! += first;
    back[bins[index]!]! += weight - first;
    frontSum += first;
    backSum += weight - first;
  }
  smoothHistogram(front);
  smoothHistogram(back);
  const odds = new Float32Array(BINS);
  for (let bin = 0; bin < BINS; bin += 1) {
    odds[bin] = Math.log(((front[bin]! + 0.5) / (frontSum + 1)) * ((backSum + 1) / (back[bin]! + 0.5)));
  }
  return odds;
}

/** [1 2 1] / 4 along each colour axis in place, the end value repeated. */
function smoothHistogram(histogram: Float32Array): void {
  for (const stride of [1, LEVELS, LEVELS * LEVELS]) {
    for (let block = 0; block < BINS; block += stride * LEVELS) {
      for (let start = block; start < block + stride; start += 1) smoothLine(histogram, start, stride);
    }
  }
}

function smoothLine(histogram: Float32Array, start: number, stride: number): void {
  let before = histogram[start]!;
  for (let level = 0, at = start; level < LEVELS; level += 1, at += stride) {
    const here = histogram[at]!;
    const after = level < LEVELS - 1 ? histogram[at + stride]! : here;
    histogram[at] = 0.25 * before + 0.5 * here + 0.25 * after;
    before = here;
  }
}

/** Mean over a (2 radius + 1)² window, the window cut off at the border. */
export function boxBlur(values: Float32Array, width: number, height: number, radius: number): Float32Array {
  const rows = new Float32Array(values.length);
  const result = new Float32Array(values.length);
  for (let y = 0; y < height; y += 1) slide(values, rows, y * width, 1, width, radius);
  for (let x = 0; x < width; x += 1) slide(rows, result, x, width, height, radius);
  return result;
}

function slide(
  from: Float32Array,
  to: Float32Array,
  start: number,
  stride: number,
  count: number,
  radius: number,
): void {
  let sum = 0;
  for (let index = 0; index < Math.min(radius, count); index += 1) sum += from[start + index * stride]!;
  for (let index = 0; index < count; index += 1) {
    if (index + radius < count) sum += from[start + (index + radius) * stride]!;
    if (index - radius > 0) sum -= from[start + (index - radius - 1) * stride]!;
    const size = Math.min(count - 1, index + radius) - Math.max(0, index - radius) + 1;
    to[start + index * stride] = sum / size;
  }
}
