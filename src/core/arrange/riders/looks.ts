/**
 * What bikes look like, pass by pass, in the few ways worth comparing. Which way tells bikes apart depends on the day:
 * across the sides of a bike colours do, from one side shapes do. The day decides, in `chooseLook`.
 */
import { symmetricEigen } from '../../numeric/symmetricEigen.js';
import type { Bikes } from '../bikes.js';
import { normaliseRows } from '../descriptors.js';
import type { RawPass } from '../passes.js';

export interface Look {
  readonly name: string;
  readonly dimensions: number;
  /** `passes × dimensions`, unit rows. */
  readonly rows: Float32Array;
}

interface Part {
  readonly from: number;
  readonly length: number;
  readonly directions: number;
  readonly weight: number;
}

/** Lengths of format 1 of the descriptor: rows of Lab, then the detector's blocks 9 and 13. */
const LAB_LENGTH = 400;
const BLOCKS: readonly Part[] = [
  { from: 400, length: 192, directions: 64, weight: 1 },
  { from: 592, length: 384, directions: 64, weight: 0.7 },
];
const LAB: Part = { from: 0, length: LAB_LENGTH, directions: 48, weight: 1 };
const FULL_LENGTH = 976;
/** Enough passes to know the day's main directions. */
const MOST_SAMPLES = 360;

export function looksOf(passes: readonly RawPass[], bikes: Bikes): readonly Look[] {
  const d = bikes.dimensions;
  const pooled = poolPasses(passes, bikes);
  if (d !== FULL_LENGTH && d !== LAB_LENGTH)
    return [{ name: 'whole', dimensions: d, rows: centred(pooled, d, passes) }];
  const lab = slice(pooled, d, passes.length, LAB);
  const plain = project(lab, LAB_LENGTH, 64, false);
  const colours: Look = { name: 'colours', dimensions: 64, rows: centred(plain, 64, passes) };
  if (d === LAB_LENGTH) return [colours];
  const whitened = BLOCKS.map((part) =>
    project(slice(pooled, d, passes.length, part), part.length, part.directions, true),
  );
  const labWhite = project(lab, LAB_LENGTH, LAB.directions, true);
  const mixed = beside([labWhite, ...whitened], [LAB, ...BLOCKS], passes.length);
  const withColours = beside([plain, ...whitened], [{ ...LAB, directions: 64, weight: 2 }, ...BLOCKS], passes.length);
  return [
    colours,
    { name: 'colours and shapes', dimensions: 176, rows: centred(mixed, 176, passes) },
    { name: 'mostly colours', dimensions: 192, rows: centred(withColours, 192, passes) },
  ];
}

function poolPasses(passes: readonly RawPass[], bikes: Bikes): Float32Array {
  const d = bikes.dimensions;
  const pooled = new Float32Array(passes.length * d);
  passes.forEach(({ bikes: list }, p) => {
    for (const i of list)
      for (let k = 0; k < d; k++) pooled[p * d + k] = pooled[p * d + k]! + bikes.descriptors[i * d + k]!;
  });
  normaliseRows(pooled, d);
  return pooled;
}

function slice(rows: Float32Array, d: number, count: number, { from, length }: Part): Float32Array {
  const out = new Float32Array(count * length);
  for (let p = 0; p < count; p++) out.set(rows.subarray(p * d + from, p * d + from + length), p * length);
  normaliseRows(out, length);
  return out;
}

/**
 * Onto the main directions of (a sample of) the rows themselves, from the eigenvectors of their Gram matrix; whitened or
 * not, unit rows. Fewer directions where there are fewer rows: the rest stays zero.
 */
function project(rows: Float32Array, d: number, directions: number, isWhitened: boolean): Float32Array {
  const count = rows.length / d;
  const stride = Math.max(1, Math.ceil(count / MOST_SAMPLES));
  const sample: number[] = [];
  for (let p = 0; p < count; p += stride) sample.push(p);
  const mean = new Float64Array(d);
  for (const p of sample) for (let k = 0; k < d; k++) mean[k] = mean[k]! + rows[p * d + k]! / sample.length;
  const base = mainDirections(rows, d, sample, mean, directions, isWhitened);
  const out = new Float32Array(count * directions);
  const own = new Float32Array(d);
  for (let p = 0; p < count; p++) {
    for (let k = 0; k < d; k++) own[k] = rows[p * d + k]! - mean[k]!;
    base.forEach((direction, j) => {
      let sum = 0;
      for (let k = 0; k < d; k++) sum += direction[k]! * own[k]!;
      out[p * directions + j] = sum;
    });
  }
  normaliseRows(out, directions);
  return out;
}

/** Variance below this share of the largest is not blown up. */
const NOISE_SHARE = 1e-3;

function mainDirections(
  rows: Float32Array,
  d: number,
  sample: readonly number[],
  mean: Float64Array,
  directions: number,
  isWhitened: boolean,
): readonly Float32Array[] {
  const n = sample.length;
  const x = new Float32Array(n * d);
  sample.forEach((p, i) => {
    for (let k = 0; k < d; k++) x[i * d + k] = rows[p * d + k]! - mean[k]!;
  });
  const gram = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < d; k++) sum += x[i * d + k]! * x[j * d + k]!;
      gram[i * n + j] = sum / n;
      gram[j * n + i] = sum / n;
    }
  const { values, vectors } = symmetricEigen(gram, n);
  const found: Float32Array[] = [];
  for (let m = 0; m < Math.min(directions, n - 1); m++) {
    const variance = values[m]!;
    if (variance < 1e-9) break;
    const scale = 1 / Math.sqrt(variance * n) / (isWhitened ? Math.sqrt(variance + NOISE_SHARE * values[0]!) : 1);
    const direction = new Float32Array(d);
    for (let i = 0; i < n; i++) {
      const share = vectors[m * n + i]! * scale;
      for (let k = 0; k < d; k++) direction[k] = direction[k]! + share * x[i * d + k]!;
    }
    found.push(direction);
  }
  return found;
}

function beside(matrices: readonly Float32Array[], parts: readonly Part[], count: number): Float32Array {
  const d = parts.reduce((sum, { directions }) => sum + directions, 0);
  const out = new Float32Array(count * d);
  let from = 0;
  matrices.forEach((matrix, m) => {
    const { directions, weight } = parts[m]!;
    for (let p = 0; p < count; p++)
      for (let k = 0; k < directions; k++) out[p * d + from + k] = weight * matrix[p * directions + k]!;
    from += directions;
  });
  normaliseRows(out, d);
  return out;
}

/** Passes at which a session's own mean counts as much as the day's. */
const SHRINK_PASSES = 8;

/** What all bikes of one session at one spot share (light, background, view) is taken away. */
function centred(rows: Float32Array, d: number, passes: readonly RawPass[]): Float32Array {
  const out = Float32Array.from(rows);
  const dayMean = meanOf(
    rows,
    d,
    passes.map((_, p) => p),
  );
  for (const list of placesOf(passes).values()) {
    const mean = meanOf(rows, d, list);
    const weight = list.length / (list.length + SHRINK_PASSES);
    for (const p of list)
      for (let k = 0; k < d; k++) out[p * d + k] = out[p * d + k]! - (weight * mean[k]! + (1 - weight) * dayMean[k]!);
  }
  normaliseRows(out, d);
  return out;
}

/** Where and when a pass was seen: a session at one spot, or by one body where nobody said the spot. */
export const placeOf = ({ session, spot, body }: RawPass): string => `${session} ${spot ?? body}`;

function placesOf(passes: readonly RawPass[]): ReadonlyMap<string, readonly number[]> {
  const places = new Map<string, number[]>();
  passes.forEach((pass, p) => {
    const key = placeOf(pass);
    const list = places.get(key);
    if (list === undefined) places.set(key, [p]);
    else list.push(p);
  });
  return places;
}

function meanOf(rows: Float32Array, d: number, list: readonly number[]): Float64Array {
  const mean = new Float64Array(d);
  for (const p of list) for (let k = 0; k < d; k++) mean[k] = mean[k]! + rows[p * d + k]!;
  for (let k = 0; k < d; k++) mean[k] = mean[k]! / Math.max(1, list.length);
  return mean;
}
