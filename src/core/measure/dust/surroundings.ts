/**
 * How much darker a small square is than the ring about it, everywhere in a picture, and how far that strays where there is nothing.
 *
 * The centre–surround difference of box means from a summed-area table (F. C. Crow, SIGGRAPH 1984, from memory), of the logarithm of
 * light, so that a share of light taken away is the same depth on a bright sky and on dark tarmac, and a slope of light cancels.
 * Scatter is 1.4826 × the median distance from the median (normal-consistent MAD), tile by tile.
 */
import type { GreyImage } from '../images.js';

/** Sums of log light, one row and column larger than the picture. */
export interface LightSums {
  readonly width: number;
  readonly height: number;
  readonly sums: Float64Array;
  /** Pixels too dark or clipped to be judged, summed the same way. */
  readonly bad: Uint32Array;
}

/** A square of `2 × half + 1` pixels and the ring between two larger ones. */
export interface Probe {
  readonly half: number;
  readonly inner: number;
  readonly outer: number;
  /** Steps between the places it is laid at. */
  readonly step: number;
}

/** Wide rings are steady in grain finer than the spot. */
const wide = (half: number, step: number): Probe => ({
  half,
  inner: Math.ceil(1.8 * half) + 1,
  outer: Math.ceil(2.6 * half) + 3,
  step,
});
/** Close rings look at the rim alone: in grain as coarse as the spot, what lies further off is another stone. */
const close = (half: number, inner: number, outer: number, step: number): Probe => ({ half, inner, outer, step });

/** Squares of 3, 5, 9 and 15 pixels: spots 3 to 20 pixels across. */
export const PROBES: readonly Probe[] = [
  wide(1, 1),
  close(2, 3, 5, 1),
  wide(4, 2),
  close(4, 6, 9, 2),
  wide(7, 3),
  close(7, 9, 13, 2),
];

const DARKEST = 12;
const BRIGHTEST = 250;

/** sRGB (IEC 61966-2-1) to the logarithm of light. */
const LOG_LIGHT = Float64Array.from({ length: 256 }, (_, value) => {
  const v = Math.max(value, 1) / 255;
  return Math.log(v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
});

export function lightSums({ data, width, height }: GreyImage): LightSums {
  const stride = width + 1;
  const sums = new Float64Array(stride * (height + 1));
  const bad = new Uint32Array(stride * (height + 1));
  for (let y = 0; y < height; y += 1) {
    let row = 0;
    let badRow = 0;
    for (let x = 0, at = (y + 1) * stride + 1; x < width; x += 1, at += 1) {
      const value = data[y * width + x]!;
      row += LOG_LIGHT[value]!;
      if (value < DARKEST || value > BRIGHTEST) badRow += 1;
      sums[at] = sums[at - stride]! + row;
      bad[at] = bad[at - stride]! + badRow;
    }
  }
  return { width, height, sums, bad };
}

const boxSum = (table: Float64Array | Uint32Array, stride: number, x: number, y: number, half: number): number => {
  const top = (y - half) * stride + x;
  const bottom = (y + half + 1) * stride + x;
  return table[bottom + half + 1]! - table[bottom - half]! - table[top + half + 1]! + table[top - half]!;
};

/** Whether nothing in these pixels, both ends in, is clipped or black. */
export const isClean = (light: LightSums, left: number, top: number, right: number, bottom: number): boolean => {
  const stride = light.width + 1;
  const from = Math.max(0, top) * stride;
  const to = Math.min(light.height, bottom + 1) * stride;
  const [first, last] = [Math.max(0, left), Math.min(light.width, right + 1)];
  return light.bad[to + last]! - light.bad[to + first]! === light.bad[from + last]! - light.bad[from + first]!;
};

/** `darkerAt` for places known to be clean, by `y × (width + 1) + x`: it is asked hundreds of millions of times a day. */
export function differenceIn({ width, sums }: LightSums, { half, inner, outer }: Probe): (at: number) => number {
  const stride = width + 1;
  const cornersOf = (reach: number) => [(reach + 1) * stride + reach + 1, (reach + 1) * stride - reach] as const;
  const [squareA, squareB] = cornersOf(half);
  const [innerA, innerB] = cornersOf(inner);
  const [outerA, outerB] = cornersOf(outer);
  const [squareC, squareD] = [half + 1 - half * stride, -half - half * stride];
  const [innerC, innerD] = [inner + 1 - inner * stride, -inner - inner * stride];
  const [outerC, outerD] = [outer + 1 - outer * stride, -outer - outer * stride];
  const perSquare = 1 / (2 * half + 1) ** 2;
  const perRing = 1 / ((2 * outer + 1) ** 2 - (2 * inner + 1) ** 2);
  return (at) =>
    (sums[at + squareA]! - sums[at + squareB]! - sums[at + squareC]! + sums[at + squareD]!) * perSquare -
    (sums[at + outerA]! -
      sums[at + outerB]! -
      sums[at + outerC]! +
      sums[at + outerD]! -
      (sums[at + innerA]! - sums[at + innerB]! - sums[at + innerC]! + sums[at + innerD]!)) *
      perRing;
}

/** Log light of the square less that of its ring: −0.05 is 5 % darker. NaN where it cannot be judged; the ring has to lie inside. */
export function darkerAt(light: LightSums, probe: Probe, x: number, y: number): number {
  const { outer } = probe;
  return isClean(light, x - outer, y - outer, x + outer, y + outer)
    ? differenceIn(light, probe)(y * (light.width + 1) + x)
    : Number.NaN;
}

/** Mean log light of a small square; for the look round about. */
export const lightAt = ({ width, sums }: LightSums, x: number, y: number, half: number): number =>
  boxSum(sums, width + 1, x, y, half) / (2 * half + 1) ** 2;

/** 8 bits and JPEG make flat sky flatter than light is: less scatter than this is not believed. */
const LEAST_SCATTER = 0.003;
const LEAST_SAMPLES = 24;
const SAMPLES_A_SIDE = 14;
const TO_STANDARD_DEVIATION = 1.4826;

/** Scatter of the probe over a tile; null where too little of it can be judged. */
export function scatterIn(light: LightSums, probe: Probe, left: number, top: number, right: number, bottom: number) {
  const from = { x: Math.max(left, probe.outer), y: Math.max(top, probe.outer) };
  const to = { x: Math.min(right, light.width - probe.outer), y: Math.min(bottom, light.height - probe.outer) };
  const values: number[] = [];
  const difference = differenceIn(light, probe);
  const { outer } = probe;
  const isAllClean = isClean(light, from.x - outer, from.y - outer, to.x + outer, to.y + outer);
  for (let j = 0; j < SAMPLES_A_SIDE; j += 1)
    for (let i = 0; i < SAMPLES_A_SIDE; i += 1) {
      const x = Math.floor(from.x + ((i + 0.5) * (to.x - from.x)) / SAMPLES_A_SIDE);
      const y = Math.floor(from.y + ((j + 0.5) * (to.y - from.y)) / SAMPLES_A_SIDE);
      if (x < from.x || y < from.y || x >= to.x || y >= to.y) continue;
      if (isAllClean || isClean(light, x - outer, y - outer, x + outer, y + outer))
        values.push(difference(y * (light.width + 1) + x));
    }
  if (values.length < LEAST_SAMPLES) return null;
  const middle = medianOf(values);
  const away = medianOf(values.map((value) => Math.abs(value - middle)));
  return Math.max(LEAST_SCATTER, TO_STANDARD_DEVIATION * away);
}

export function medianOf(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
