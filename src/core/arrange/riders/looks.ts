/**
 * What bikes look like, pass by pass, in the few ways worth comparing. Which way tells bikes apart depends on the day:
 * across the sides of a bike colours do, from one side shapes do. The day decides, in `chooseLook`.
 */
import { PART_LENGTHS } from '../../measure/describeBike.js';
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

type PartName = keyof typeof PART_LENGTHS;

interface Part {
  readonly part: PartName;
  readonly directions: number;
  /** 1 gives every direction the same variance over the day, 0 leaves them as they are. */
  readonly whitening: number;
  readonly weight: number;
}

const COLOURS: Part = { part: 'lab', directions: 64, whitening: 0, weight: 1 };
/** Taught to know one bike from all sides, so its directions count already as they are. */
const TAUGHT: Part = { part: 'taught', directions: 96, whitening: 0, weight: 1 };
/** Weights as in `whitenDescriptors`; fewer directions of each, for a day of thousands of frames. Half whitened what was taught keeps look-alikes apart better here. */
const ALL: readonly Part[] = [
  { part: 'lab', directions: 48, whitening: 1, weight: 1 },
  { part: 'taught', directions: 64, whitening: 0.5, weight: 1 },
  { part: 'block9', directions: 48, whitening: 1, weight: 1 },
  { part: 'block13', directions: 32, whitening: 1, weight: 0.7 },
];
const FULL_LENGTH = Object.values(PART_LENGTHS).reduce((sum, length) => sum + length, 0);
/** Enough passes to know the day's main directions. */
const MOST_SAMPLES = 360;

export function looksOf(passes: readonly RawPass[], bikes: Bikes): readonly Look[] {
  const d = bikes.dimensions;
  const pooled = poolPasses(passes, bikes);
  if (d !== FULL_LENGTH && d !== PART_LENGTHS.lab)
    return [{ name: 'whole', dimensions: d, rows: centred(pooled, d, passes) }];
  const look = (name: string, parts: readonly Part[]): Look => {
    const matrices = parts.map((part) => project(slice(pooled, d, passes.length, part.part), part));
    const dimensions = parts.reduce((sum, { directions }) => sum + directions, 0);
    return { name, dimensions, rows: centred(beside(matrices, parts, passes.length), dimensions, passes) };
  };
  if (d === PART_LENGTHS.lab) return [look('colours', [COLOURS])];
  return [look('taught', [TAUGHT]), look('colours and taught', [COLOURS, TAUGHT]), look('all', ALL)];
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

function slice(rows: Float32Array, d: number, count: number, part: PartName): Float32Array {
  const length = PART_LENGTHS[part];
  const names = Object.keys(PART_LENGTHS) as PartName[];
  const from = names.slice(0, names.indexOf(part)).reduce((sum, name) => sum + PART_LENGTHS[name], 0);
  const out = new Float32Array(count * length);
  for (let p = 0; p < count; p++) out.set(rows.subarray(p * d + from, p * d + from + length), p * length);
  normaliseRows(out, length);
  return out;
}

/**
 * Onto the main directions of (a sample of) the rows themselves, from the eigenvectors of their Gram matrix; whitened
 * as the part asks, unit rows. Fewer directions where there are fewer rows: the rest stays zero.
 */
function project(rows: Float32Array, { part, directions, whitening }: Part): Float32Array {
  const d = PART_LENGTHS[part];
  const count = rows.length / d;
  const stride = Math.max(1, Math.ceil(count / MOST_SAMPLES));
  const sample: number[] = [];
  for (let p = 0; p < count; p += stride) sample.push(p);
  const mean = new Float64Array(d);
  for (const p of sample) for (let k = 0; k < d; k++) mean[k] = mean[k]! + rows[p * d + k]! / sample.length;
  const base = mainDirections(rows, d, sample, mean, directions, whitening);
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
  whitening: number,
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
    const scale = (variance + NOISE_SHARE * values[0]!) ** (-whitening / 2) / Math.sqrt(variance * n);
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

/** What all bikes of one session at one spot share (light, background, view) is taken away, and what one body does to colours. */
function centred(rows: Float32Array, d: number, passes: readonly RawPass[]): Float32Array {
  const out = withoutCasts(rows, d, passes);
  const dayMean = meanOf(
    out,
    d,
    passes.map((_, p) => p),
  );
  for (const list of grouped(passes, placeOf).values()) {
    const mean = meanOf(out, d, list);
    const weight = list.length / (list.length + SHRINK_PASSES);
    for (const p of list)
      for (let k = 0; k < d; k++) out[p * d + k] = out[p * d + k]! - (weight * mean[k]! + (1 - weight) * dayMean[k]!);
  }
  normaliseRows(out, d);
  return out;
}

/** Where and when a pass was seen: a session at one spot, or by one body where nobody said the spot. */
export const placeOf = ({ session, stand }: RawPass): string => `${session} ${stand}`;

/** Once more, since the first means of places still hold the bodies' own. */
const CAST_ROUNDS = 2;

/**
 * Two bodies in one place show its bikes in their own colours. What of one differs from the means of its places, over the whole day,
 * is its own: those places' bikes are the same to both. A body that is alone in its places differs in nothing.
 */
function withoutCasts(rows: Float32Array, d: number, passes: readonly RawPass[]): Float32Array {
  const out = Float32Array.from(rows);
  const bodies = [...grouped(passes, ({ body }) => body).values()];
  if (bodies.length < 2) return out;
  const places = [...grouped(passes, placeOf).values()];
  const placeAt = new Int32Array(passes.length);
  places.forEach((list, place) => {
    for (const p of list) placeAt[p] = place;
  });
  for (let round = 0; round < CAST_ROUNDS; round++) {
    const means = places.map((list) => meanOf(out, d, list));
    const casts = bodies.map((list) => meanLess(out, d, list, (p) => means[placeAt[p]!]!));
    bodies.forEach((list, body) => {
      for (const p of list) for (let k = 0; k < d; k++) out[p * d + k] = out[p * d + k]! - casts[body]![k]!;
    });
  }
  return out;
}

/** Mean of what is left of each row. */
function meanLess(
  rows: Float32Array,
  d: number,
  list: readonly number[],
  takenOf: (p: number) => Float64Array,
): Float64Array {
  const mean = new Float64Array(d);
  for (const p of list) {
    const taken = takenOf(p);
    for (let k = 0; k < d; k++) mean[k] = mean[k]! + Math.fround(rows[p * d + k]! - taken[k]!);
  }
  for (let k = 0; k < d; k++) mean[k] = mean[k]! / list.length;
  return mean;
}

function grouped(passes: readonly RawPass[], keyOf: (pass: RawPass) => string): ReadonlyMap<string, readonly number[]> {
  const groups = new Map<string, number[]>();
  passes.forEach((pass, p) => {
    const key = keyOf(pass);
    const list = groups.get(key);
    if (list === undefined) groups.set(key, [p]);
    else list.push(p);
  });
  return groups;
}

function meanOf(rows: Float32Array, d: number, list: readonly number[]): Float64Array {
  const mean = new Float64Array(d);
  for (const p of list) for (let k = 0; k < d; k++) mean[k] = mean[k]! + rows[p * d + k]!;
  for (let k = 0; k < d; k++) mean[k] = mean[k]! / Math.max(1, list.length);
  return mean;
}
