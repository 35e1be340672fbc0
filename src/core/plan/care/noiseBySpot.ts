/** A spot stood at several times is one line: minutes and doses add up. */
import type { CircuitSpot } from '../circuit/types.js';
import type { NoiseOfStay, Span } from './types.js';

export interface NoiseOfSpot {
  readonly spot: CircuitSpot;
  readonly minutes: number;
  /** Of its loudest stay. */
  readonly bareDb: Span;
  readonly atEarDb: Span | null;
  readonly barePercent: Span;
}

/** In the order in which the day comes to them. */
export function noiseBySpot(stays: readonly NoiseOfStay[]): readonly NoiseOfSpot[] {
  const bySpot = new Map<string, NoiseOfSpot>();
  for (const { stay, minutes, bareDb, atEarDb, barePercent } of stays) {
    const { spot } = stay;
    const before = bySpot.get(spot.id);
    if (before === undefined) bySpot.set(spot.id, { spot, minutes, bareDb, atEarDb, barePercent });
    else
      bySpot.set(spot.id, {
        spot,
        minutes: before.minutes + minutes,
        barePercent: added(before.barePercent, barePercent),
        ...(bareDb.likely > before.bareDb.likely
          ? { bareDb, atEarDb }
          : { bareDb: before.bareDb, atEarDb: before.atEarDb }),
      });
  }
  return [...bySpot.values()];
}

const added = (a: Span, b: Span): Span => ({ low: a.low + b.low, likely: a.likely + b.likely, high: a.high + b.high });
