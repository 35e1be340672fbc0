/**
 * The order of the day: corrected time, body, file number with rollover; never the name alone. An exposure without a
 * time stands behind the one its body took before it, as the file numbers tell; a body that recorded no times at all
 * comes last.
 */
import type { WallMs } from '../units.js';
import { bodiesOf } from './correctedTime.js';
import { compareText, type RawExposure } from './exposures.js';
import { shootingOrder } from './shootingOrder.js';

/** Indices of `exposures` in the order of the day. */
export function orderOfDay(exposures: readonly RawExposure[], walls: readonly (WallMs | null)[]): readonly number[] {
  const shotPlace = new Int32Array(exposures.length);
  const effective = new Float64Array(exposures.length).fill(Number.POSITIVE_INFINITY);
  for (const indices of bodiesOf(exposures).values()) {
    let before = Number.NaN;
    const order = shootingOrder(indices.map((i) => exposures[i]!)).map((k) => indices[k]!);
    order.forEach((i, place) => {
      shotPlace[i] = place;
      const wall = walls[i];
      if (wall !== null && wall !== undefined) before = wall;
      if (!Number.isNaN(before)) effective[i] = before;
    });
    fillFromBehind(order, effective);
  }
  return exposures
    .map((_, i) => i)
    .sort(
      (a, b) =>
        compareNumbers(effective[a]!, effective[b]!) ||
        compareText(exposures[a]!.body, exposures[b]!.body) ||
        shotPlace[a]! - shotPlace[b]! ||
        compareText(exposures[a]!.path, exposures[b]!.path),
    );
}

/** Exposures before a body's first recorded time stand with that time. */
function fillFromBehind(order: readonly number[], effective: Float64Array): void {
  const first = order.find((i) => effective[i] !== Number.POSITIVE_INFINITY);
  if (first === undefined) return;
  for (const i of order) {
    if (effective[i] !== Number.POSITIVE_INFINITY) return;
    effective[i] = effective[first]!;
  }
}

const compareNumbers = (a: number, b: number): number => (a < b ? -1 : a > b ? 1 : 0);
