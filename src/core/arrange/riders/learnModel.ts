/**
 * The day's own model of looks: x = rider + session term + pass noise, three Gaussian levels, diagonal after one joint
 * projection. Learnt from the seeds; with few of them it shrinks to equal noise in all directions.
 *
 * Source: S. Ioffe, "Probabilistic linear discriminant analysis", ECCV 2006, with a level between (speaker, session and
 * noise as in P. Kenny et al., IEEE TASLP 15 (2007) 1435–1447); variances by moments, not by maximum likelihood.
 */
import { symmetricEigen } from '../../numeric/symmetricEigen.js';
import type { Field } from './field.js';
import { type Look, placeOf } from './looks.js';
import type { Seeds } from './seeds.js';

const MOST_DIRECTIONS = 48;
/** Least share of the isotropic part in the noise, where a day teaches enough: halfway did best on simulated days. */
const LEAST_SHRINK = 0.5;
/**
 * So many degrees of freedom a dimension teach enough. With fewer the noise is taken for equal in all directions by as much as
 * is missing: a few pairs, some of them of two bikes, else make their own differences look like noise and join those very bikes.
 * On simulated days of one to three rounds (seed 1 of three settings) wrong passes fell from 2.9 in a hundred to 0.5.
 */
const ENOUGH_FREEDOM = 10;
/** Larger days are learnt from this many passes. */
const MOST_PASSES = 2600;
/** All riders' scatter needs fewer. */
const MOST_FOR_TOTAL = 1200;

export interface LookModel {
  readonly directions: number;
  /** How much is missing of what has to be seen to know what noise looks like, 0–1. */
  readonly thinness: number;
  /** `passes × directions`, projected. */
  readonly rows: Float64Array;
  /** Variances along each direction: of passes, of sessions within a rider, of riders. */
  readonly passVariance: Float64Array;
  readonly sessionVariance: Float64Array;
  readonly riderVariance: Float64Array;
}

export function learnModel(field: Field, look: Look, seeds: Seeds): LookModel {
  const d = look.dimensions;
  const used = seedsUsed(seeds);
  const total = covariance(
    look,
    thinned(
      used.flatMap(({ passes }) => passes),
      MOST_FOR_TOTAL,
    ),
  );
  const { within, withinFreedom, sessions, sessionFreedom, inverseSize } = scatters(field, look, used);
  const session = new Float64Array(d * d);
  for (let i = 0; i < d * d; i++) session[i] = sessions[i]! - inverseSize * within[i]!;
  const noise = new Float64Array(d * d);
  for (let i = 0; i < d * d; i++) noise[i] = within[i]! + session[i]!;
  const thinness = 1 - Math.min(1, (withinFreedom + sessionFreedom) / (ENOUGH_FREEDOM * d));
  shrink(noise, d, LEAST_SHRINK + (1 - LEAST_SHRINK) * thinness, traceOf(total, d) / d);
  const whitening = inverseRoot(noise, d);
  const main = symmetricEigen(sandwich(whitening, total, d), d);
  const q = Math.min(MOST_DIRECTIONS, d);
  const axes = Array.from({ length: q }, (_, k) => combine(main.vectors.subarray(k * d, (k + 1) * d), whitening, d));
  const along = (matrix: Float64Array, floor: number): Float64Array =>
    Float64Array.from(axes, (axis) => Math.max(floor, quadratic(matrix, axis, d)));
  const passVariance = along(within, withinFreedom < 5 ? 0.5 : 0.02);
  // Nobody was seen in two sessions yet: a session then changes looks as much as a pass does, as on simulated days.
  const sessionVariance = sessionFreedom === 0 ? passVariance : along(session, 0.02);
  const all = along(total, 1e-3);
  return {
    directions: q,
    thinness,
    rows: projectRows(look, axes),
    passVariance,
    sessionVariance,
    riderVariance: all.map((value, k) => Math.max(1e-3, value - passVariance[k]! - sessionVariance[k]!)),
  };
}

function thinned(list: readonly number[], most: number): readonly number[] {
  const stride = Math.max(1, Math.ceil(list.length / most));
  return list.filter((_, i) => i % stride === 0);
}

interface SeedRider {
  readonly passes: readonly number[];
}

function seedsUsed({ tracklets, rough }: Seeds): readonly SeedRider[] {
  const riders = new Map<number, number[]>();
  tracklets.forEach((list, t) => {
    const own = riders.get(rough[t]!);
    if (own === undefined) riders.set(rough[t]!, [...list]);
    else own.push(...list);
  });
  const all = [...riders.values()];
  const count = all.reduce((sum, passes) => sum + passes.length, 0);
  const stride = Math.max(1, Math.ceil(count / MOST_PASSES));
  return all.filter((_, i) => i % stride === 0).map((passes) => ({ passes }));
}

function covariance(look: Look, list: readonly number[]): Float64Array {
  const d = look.dimensions;
  const mean = new Float64Array(d);
  for (const p of list) for (let k = 0; k < d; k++) mean[k] = mean[k]! + look.rows[p * d + k]! / list.length;
  const sum = new OuterSum(d);
  for (const p of list) sum.add(look.rows, p, mean);
  return sum.over(list.length);
}

function scatters(field: Field, look: Look, riders: readonly SeedRider[]) {
  const d = look.dimensions;
  const within = new OuterSum(d);
  const sessions = new OuterSum(d);
  let withinFreedom = 0;
  let sessionFreedom = 0;
  let inverseSize = 0;
  for (const { passes } of riders) {
    if (passes.length < 2) continue;
    const places = [...byPlace(passes, field).values()];
    const means = places.map((list) => meanOf(look, list));
    places.forEach((list, i) => {
      if (list.length < 2) return;
      withinFreedom += list.length - 1;
      for (const p of list) within.add(look.rows, p, means[i]!);
    });
    if (places.length < 2) continue;
    sessionFreedom += places.length - 1;
    const centre = new Float64Array(d);
    for (const mean of means) for (let k = 0; k < d; k++) centre[k] = centre[k]! + mean[k]! / means.length;
    for (const mean of means) sessions.add(mean, 0, centre);
    const meanInverse = places.reduce((sum, list) => sum + 1 / list.length, 0) / places.length;
    inverseSize += meanInverse * (places.length - 1);
  }
  return {
    within: within.over(Math.max(1, withinFreedom)),
    withinFreedom,
    sessions: sessions.over(Math.max(1, sessionFreedom)),
    sessionFreedom,
    inverseSize: inverseSize / Math.max(1, sessionFreedom),
  };
}

function byPlace(passes: readonly number[], field: Field): ReadonlyMap<string, readonly number[]> {
  const places = new Map<string, number[]>();
  for (const p of passes) {
    const key = placeOf(field.passes[p]!);
    const list = places.get(key);
    if (list === undefined) places.set(key, [p]);
    else list.push(p);
  }
  return places;
}

function meanOf(look: Look, list: readonly number[]): Float64Array {
  const d = look.dimensions;
  const mean = new Float64Array(d);
  for (const p of list) for (let k = 0; k < d; k++) mean[k] = mean[k]! + look.rows[p * d + k]! / list.length;
  return mean;
}

/** So many vectors are added at once: the sum is then read and written once for all of them, in the same order. */
const AT_ONCE = 4;

type Four = [Float64Array, Float64Array, Float64Array, Float64Array];

/** Sum of v vᵀ over many vectors. */
class OuterSum {
  readonly #d: number;
  readonly #sum: Float64Array;
  /** The lower triangle alone is summed; `over` mirrors it. */
  readonly #waiting: Float64Array;
  #count = 0;

  constructor(d: number) {
    this.#d = d;
    this.#sum = new Float64Array(d * d);
    this.#waiting = new Float64Array(AT_ONCE * d);
  }

  /** Row `at` of `rows`, less the mean. */
  add(rows: Float32Array | Float64Array, at: number, mean: Float64Array): void {
    const d = this.#d;
    const own = this.#waiting.subarray(this.#count * d, (this.#count + 1) * d);
    for (let k = 0; k < d; k++) own[k] = rows[at * d + k]! - mean[k]!;
    this.#count++;
    if (this.#count === AT_ONCE) this.#flush();
  }

  over(divisor: number): Float64Array {
    this.#waiting.fill(0, this.#count * this.#d);
    this.#flush();
    const d = this.#d;
    const mean = Float64Array.from(this.#sum);
    for (let i = 0; i < d; i++)
      for (let j = 0; j <= i; j++) {
        mean[i * d + j] = mean[i * d + j]! / divisor;
        mean[j * d + i] = mean[i * d + j]!;
      }
    return mean;
  }

  #flush(): void {
    const d = this.#d;
    addOuters(this.#sum, this.#waiting, d);
    this.#count = 0;
  }
}

function addOuters(sum: Float64Array, four: Float64Array, d: number): void {
  const [a, b, c, e] = [0, 1, 2, 3].map((k) => four.subarray(k * d, (k + 1) * d)) as Four;
  let i = 0;
  // Two rows at a time: what is read of the four vectors serves both.
  for (; i + 1 < d; i += 2) {
    const [ai, bi, ci, ei] = [a[i]!, b[i]!, c[i]!, e[i]!];
    const [al, bl, cl, el] = [a[i + 1]!, b[i + 1]!, c[i + 1]!, e[i + 1]!];
    const row = i * d;
    const lower = row + d;
    for (let j = 0; j <= i + 1; j++) {
      const [aj, bj, cj, ej] = [a[j]!, b[j]!, c[j]!, e[j]!];
      sum[row + j] = sum[row + j]! + ai * aj + bi * bj + ci * cj + ei * ej;
      sum[lower + j] = sum[lower + j]! + al * aj + bl * bj + cl * cj + el * ej;
    }
  }
  for (; i < d; i++)
    for (let j = 0; j <= i; j++)
      sum[i * d + j] = sum[i * d + j]! + a[i]! * a[j]! + b[i]! * b[j]! + c[i]! * c[j]! + e[i]! * e[j]!;
}

function traceOf(matrix: Float64Array, d: number): number {
  let trace = 0;
  for (let i = 0; i < d; i++) trace += matrix[i * d + i]!;
  return trace;
}

function shrink(matrix: Float64Array, d: number, share: number, usual: number): void {
  const level = Math.max(traceOf(matrix, d) / d, 0.05 * usual, 1e-6);
  for (let i = 0; i < d * d; i++) matrix[i] = matrix[i]! * (1 - share);
  for (let i = 0; i < d; i++) matrix[i * d + i] = matrix[i * d + i]! + share * level;
}

/** Rows: eigenvectors over the square roots of their values, none below a twentieth of the mean. */
function inverseRoot(matrix: Float64Array, d: number): Float64Array {
  const { values, vectors } = symmetricEigen(matrix, d);
  const floor = (0.05 * traceOf(matrix, d)) / d;
  const out = new Float64Array(d * d);
  for (let k = 0; k < d; k++) {
    const scale = 1 / Math.sqrt(Math.max(values[k]!, floor));
    for (let j = 0; j < d; j++) out[k * d + j] = vectors[k * d + j]! * scale;
  }
  return out;
}

/** A M Aᵀ for symmetric M. */
function sandwich(a: Float64Array, m: Float64Array, d: number): Float64Array {
  const am = new Float64Array(d * d);
  for (let i = 0; i < d; i++)
    for (let k = 0; k < d; k++) {
      const value = a[i * d + k]!;
      for (let j = 0; j < d; j++) am[i * d + j] = am[i * d + j]! + value * m[k * d + j]!;
    }
  const out = new Float64Array(d * d);
  for (let i = 0; i < d; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = 0; k < d; k++) sum += am[i * d + k]! * a[j * d + k]!;
      out[i * d + j] = sum;
      out[j * d + i] = sum;
    }
  return out;
}

function combine(weights: Float64Array, rows: Float64Array, d: number): Float64Array {
  const out = new Float64Array(d);
  for (let k = 0; k < d; k++) {
    const weight = weights[k]!;
    for (let j = 0; j < d; j++) out[j] = out[j]! + weight * rows[k * d + j]!;
  }
  return out;
}

function quadratic(matrix: Float64Array, v: Float64Array, d: number): number {
  let sum = 0;
  for (let i = 0; i < d; i++) {
    let row = 0;
    for (let j = 0; j < d; j++) row += matrix[i * d + j]! * v[j]!;
    sum += v[i]! * row;
  }
  return sum;
}

/** Four axes at a time, each summed in the order of its own values. */
function projectRows(look: Look, axes: readonly Float64Array[]): Float64Array {
  const d = look.dimensions;
  const count = look.rows.length / d;
  const q = axes.length;
  const nothing = new Float64Array(d);
  const out = new Float64Array(count * q);
  for (let k = 0; k < q; k += 4) {
    const [a0, a1, a2, a3] = [0, 1, 2, 3].map((m) => axes[k + m] ?? nothing) as Four;
    for (let p = 0; p < count; p++) {
      let [s0, s1, s2, s3] = [0, 0, 0, 0];
      const from = p * d;
      for (let j = 0; j < d; j++) {
        const value = look.rows[from + j]!;
        s0 += a0[j]! * value;
        s1 += a1[j]! * value;
        s2 += a2[j]! * value;
        s3 += a3[j]! * value;
      }
      const to = p * q + k;
      out[to] = s0;
      if (k + 1 < q) out[to + 1] = s1;
      if (k + 2 < q) out[to + 2] = s2;
      if (k + 3 < q) out[to + 3] = s3;
    }
  }
  return out;
}
