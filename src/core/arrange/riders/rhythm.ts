/**
 * The lap as a clue: the same bike comes back after whole laps of its own length. The lap length of a rider is not
 * known, so it is summed over: for each length on a grid, how well do the gaps between passes fit?
 */
import type { RawPass } from '../passes.js';

/** Riders lap in 1 to 1.85 times the fastest lap (advanced 1.14, intermediate 1.44, novice up to 1.6; trade brief §1). */
const SLOWEST = 1.85;
const STEP = 1.0125;
/** A lap wanders by about 2 % of its length, and by 0.6 % a lap more as traffic adds up. */
const WANDER = 0.02;
const DRIFT = 0.006;
/** Pit stops and mistakes: one gap in seventeen fits nothing. */
const OUTLIERS = 0.06;

export class Rhythm {
  readonly #laps: Float64Array;

  constructor(fastestLapMs: number) {
    const laps: number[] = [];
    for (let ratio = 1; ratio < SLOWEST; ratio *= STEP) laps.push(fastestLapMs * ratio);
    this.#laps = Float64Array.from(laps);
  }

  /** Log-likelihood ratio of the gaps against no rhythm, per lap length; null for fewer than two passes at a spot. */
  gaps(passes: readonly RawPass[]): Float64Array | null {
    const spots = new Map<string, number[]>();
    for (const { stand, start, end } of passes) {
      const list = spots.get(stand);
      if (list === undefined) spots.set(stand, [(start + end) / 2]);
      else list.push((start + end) / 2);
    }
    let sum: Float64Array | null = null;
    for (const times of spots.values()) {
      times.sort((a, b) => a - b);
      for (let i = 1; i < times.length; i++) {
        sum ??= new Float64Array(this.#laps.length);
        this.#addGap(sum, times[i]! - times[i - 1]!);
      }
    }
    return sum;
  }

  #addGap(sum: Float64Array, gap: number): void {
    for (let k = 0; k < this.#laps.length; k++) {
      const lap = this.#laps[k]!;
      const count = Math.max(1, Math.round(gap / lap));
      const spread = lap * Math.sqrt(WANDER * WANDER * count + DRIFT * DRIFT * count * count);
      const off = (gap - count * lap) / spread;
      const density = (0.3989422804 * lap * Math.exp(-0.5 * off * off)) / spread;
      sum[k] = sum[k]! + Math.log((1 - OUTLIERS) * density + OUTLIERS);
    }
  }

  /** Log of the mean over lap lengths, all equally likely beforehand. */
  evidence(gaps: Float64Array | null): number {
    if (gaps === null) return 0;
    let most = Number.NEGATIVE_INFINITY;
    for (const value of gaps) most = Math.max(most, value);
    let sum = 0;
    for (const value of gaps) sum += Math.exp(value - most);
    return most + Math.log(sum / gaps.length);
  }

  /** The same for the sum of two, without making it. */
  jointEvidence(a: Float64Array, b: Float64Array): number {
    let most = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < a.length; k++) most = Math.max(most, a[k]! + b[k]!);
    let sum = 0;
    for (let k = 0; k < a.length; k++) sum += Math.exp(a[k]! + b[k]! - most);
    return most + Math.log(sum / a.length);
  }
}

export function addGaps(a: Float64Array | null, b: Float64Array | null): Float64Array | null {
  if (a === null) return b;
  if (b === null) return a;
  return a.map((value, k) => value + b[k]!);
}
