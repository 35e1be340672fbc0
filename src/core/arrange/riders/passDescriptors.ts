/**
 * One descriptor per pass, centred: what all bikes of one session at one spot share (light, background, view) is taken
 * away, shrunk towards the mean of the day where a session has few passes.
 */
import type { Bikes } from '../bikes.js';
import { normaliseRows } from '../descriptors.js';
import type { RawPass } from '../passes.js';

/** Passes at which a session's own mean counts as much as the day's. */
const SHRINK_PASSES = 8;

/** `passes.length × bikes.dimensions`, unit rows. */
export function passDescriptors(passes: readonly RawPass[], bikes: Bikes): Float32Array {
  const d = bikes.dimensions;
  const pooled = new Float32Array(passes.length * d);
  passes.forEach(({ bikes: list }, p) => {
    for (const i of list)
      for (let k = 0; k < d; k++) pooled[p * d + k] = pooled[p * d + k]! + bikes.descriptors[i * d + k]!;
  });
  normaliseRows(pooled, d);
  centre(pooled, d, passes);
  normaliseRows(pooled, d);
  return pooled;
}

function centre(rows: Float32Array, d: number, passes: readonly RawPass[]): void {
  const all = passes.map((_, p) => p);
  const dayMean = meanOf(rows, d, all);
  const places = new Map<string, number[]>();
  passes.forEach(({ session, spot, body }, p) => {
    const key = `${session} ${spot ?? body}`;
    const list = places.get(key);
    if (list === undefined) places.set(key, [p]);
    else list.push(p);
  });
  for (const list of places.values()) {
    const mean = meanOf(rows, d, list);
    const weight = list.length / (list.length + SHRINK_PASSES);
    for (const p of list)
      for (let k = 0; k < d; k++) rows[p * d + k] = rows[p * d + k]! - (weight * mean[k]! + (1 - weight) * dayMean[k]!);
  }
}

function meanOf(rows: Float32Array, d: number, list: readonly number[]): Float64Array {
  const mean = new Float64Array(d);
  for (const p of list) for (let k = 0; k < d; k++) mean[k] = mean[k]! + rows[p * d + k]!;
  for (let k = 0; k < d; k++) mean[k] = mean[k]! / Math.max(1, list.length);
  return mean;
}
