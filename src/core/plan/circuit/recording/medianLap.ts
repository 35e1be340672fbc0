/**
 * One line from several laps: the lap of middle length, moved sideways at each of its points to the median of where all laps
 * pass it, three times, and smoothed. Smoothing fits a cubic to each stretch of 60 m by least squares ("Smoothing and
 * differentiation of data by simplified least squares procedures", Analytical Chemistry 36, 1964): unlike a running mean it
 * does not cut corners.
 */
import type { Point } from '../../../numeric/localPlane.js';
import { azimuthFrom, stepFrom } from '../angles.js';
import { distanceBetween, lengthOf, meetingShares, pointBetween, walkLine } from '../segments.js';
import type { Tell } from './readRecording.js';

const STEP_M = 5;
/** Points either side in the smoothing: 30 m, and 45 m where no second lap takes part of the error away. */
const REACH = 6;
const LONE_REACH = 9;
const ROUNDS = 3;
/** How far it is, is told once in so many points. */
const TOLD_EVERY = 50;
/** Laps further to the side than this pass somewhere else. */
const SIDEWAYS_M = 30;
/** Of the lap's length: the pieces looked at for where a lap passes a point. */
const NEARBY_SHARE = 0.06;

export function medianLap(laps: readonly (readonly Point[])[], tell: Tell = () => undefined): Point[] {
  const byLength = [...laps].sort((a, b) => lengthOf(a) - lengthOf(b));
  const weights = weightsOf(laps.length > 1 ? REACH : LONE_REACH);
  let ring = smoothed(evenRing(byLength[Math.floor(byLength.length / 2)]!, STEP_M), weights);
  for (let round = 0; round < ROUNDS && laps.length > 1; round++) {
    const moved = ring.map((point, i) => {
      if (i % TOLD_EVERY === 0) tell((round + i / ring.length) / ROUNDS);
      const aim = azimuthFrom(ring[(i + ring.length - 1) % ring.length]!, ring[(i + 1) % ring.length]!);
      const offsets = laps.flatMap((lap) => sidewaysOf(lap, point, aim, i / ring.length) ?? []);
      return offsets.length === 0 ? point : stepFrom(point, aim + 90, medianOf(offsets));
    });
    ring = evenRing(smoothed(moved, weights), STEP_M);
  }
  return smoothed(ring, weights);
}

/** Points about every `stepM` round a ring, the first not repeated. */
export function evenRing(ring: readonly Point[], stepM: number): Point[] {
  const closed = distanceBetween(ring[0]!, ring.at(-1)!) > 0 ? [...ring, ring[0]!] : ring;
  const lengthM = lengthOf(closed);
  const count = Math.max(8, Math.round(lengthM / stepM));
  return walkLine(closed, lengthM / count).slice(0, count);
}

/** Metres to the right of a point at which a lap passes it; null where it does not. */
function sidewaysOf(lap: readonly Point[], point: Point, aim: number, share: number): number | null {
  const [left, right] = [stepFrom(point, aim - 90, SIDEWAYS_M), stepFrom(point, aim + 90, SIDEWAYS_M)];
  const middle = Math.round(share * lap.length);
  const reach = Math.max(4, Math.ceil(NEARBY_SHARE * lap.length));
  let best: number | null = null;
  for (let k = middle - reach; k <= middle + reach; k++) {
    const [a, b] = [k, k + 1].map((at) => lap[(at + 2 * lap.length) % lap.length]!) as [Point, Point];
    const shares = meetingShares(left, right, a, b);
    if (shares === null) continue;
    const sideways = (2 * shares[0] - 1) * SIDEWAYS_M;
    if (best === null || Math.abs(sideways) < Math.abs(best)) best = sideways;
  }
  return best;
}

const medianOf = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
};

/** Weights of the least-squares cubic (they are the parabola's, too) at the middle of 2 m + 1 points. */
const weightsOf = (m: number): number[] =>
  Array.from({ length: 2 * m + 1 }, (_, k) => {
    const i = k - m;
    return (3 * (3 * m * m + 3 * m - 1 - 5 * i * i)) / ((2 * m - 1) * (2 * m + 1) * (2 * m + 3));
  });

function smoothed(ring: readonly Point[], weights: readonly number[]): Point[] {
  const reach = (weights.length - 1) / 2;
  return ring.map((_, i) => {
    let [x, y] = [0, 0];
    weights.forEach((weight, k) => {
      const point = ring[(i + k - reach + ring.length) % ring.length]!;
      x += weight * point.x;
      y += weight * point.y;
    });
    return { x, y };
  });
}

/** Mean distance sideways of the laps from the line: how far they lie apart. */
export function spreadOf(laps: readonly (readonly Point[])[], ring: readonly Point[]): number {
  const closed = [...ring, ring[0]!];
  const all = laps.flatMap((lap) => lap.map((point) => nearestTo(point, closed)));
  return all.reduce((sum, metres) => sum + metres, 0) / all.length;
}

function nearestTo(point: Point, line: readonly Point[]): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 1; i < line.length; i++) {
    const middle = pointBetween(line[i - 1]!, line[i]!, 0.5);
    best = Math.min(best, distanceBetween(point, line[i - 1]!), distanceBetween(point, middle));
  }
  return best;
}
