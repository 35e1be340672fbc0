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

const probeOf = (half: number, step: number): Probe => ({
  half,
  inner: Math.ceil(1.8 * half) + 1,
  outer: Math.ceil(2.6 * half) + 3,
  step,
});

/** Squares of 3, 5, 9 and 15 pixels: spots 3 to 20 pixels across. */
export const PROBES: readonly Probe[] = [probeOf(1, 1), probeOf(2, 1), probeOf(4, 2), probeOf(7, 3)];

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

/** Log light of the square less that of its ring: −0.05 is 5 % darker. NaN where it cannot be judged; the ring has to lie inside. */
export function darkerAt({ width, sums, bad }: LightSums, { half, inner, outer }: Probe, x: number, y: number): number {
  const stride = width + 1;
  if (boxSum(bad, stride, x, y, outer) > 0) return Number.NaN;
  const square = (2 * half + 1) ** 2;
  const ring = (2 * outer + 1) ** 2 - (2 * inner + 1) ** 2;
  return (
    boxSum(sums, stride, x, y, half) / square -
    (boxSum(sums, stride, x, y, outer) - boxSum(sums, stride, x, y, inner)) / ring
  );
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
  for (let j = 0; j < SAMPLES_A_SIDE; j += 1)
    for (let i = 0; i < SAMPLES_A_SIDE; i += 1) {
      const x = Math.floor(from.x + ((i + 0.5) * (to.x - from.x)) / SAMPLES_A_SIDE);
      const y = Math.floor(from.y + ((j + 0.5) * (to.y - from.y)) / SAMPLES_A_SIDE);
      if (x < from.x || y < from.y || x >= to.x || y >= to.y) continue;
      const value = darkerAt(light, probe, x, y);
      if (!Number.isNaN(value)) values.push(value);
    }
  if (values.length < LEAST_SAMPLES) return null;
  const middle = medianOf(values);
  const away = medianOf(values.map((value) => Math.abs(value - middle)));
  return Math.max(LEAST_SCATTER, TO_STANDARD_DEVIATION * away);
}

export function medianOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
