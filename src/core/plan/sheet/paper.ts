/** Numbers that paper and the desk's print view share, in CSS pixels: an A4 page at 96 to the inch. */
import type { WallMs } from '../../units.js';
import type { RunSheet } from './types.js';
import { MINUTE_MS } from './words.js';

export const PAPER = {
  widthPx: 793.7,
  heightPx: 1122.5,
  /** 12 mm. */
  edgePx: 45.4,
  topPx: 34,
  bottomPx: 34,
} as const;

export const INNER_PX = PAPER.widthPx - 2 * PAPER.edgePx;

/** Left of the hours stand the spots' names. */
export const HOURS_FROM_PX = 82;

export interface HourScale {
  readonly from: WallMs;
  readonly to: WallMs;
  /** Pixels from the left edge of what is printed. */
  x(at: number): number;
}

const HOUR_MS = 60 * MINUTE_MS;

/** Whole hours about all that the day holds; without anything, a usual day of 8 to 18. */
export function hourScale({ day, slots, stands }: RunSheet): HourScale {
  const times = [...slots.flatMap(({ start, end }) => [start, end]), ...stands.flatMap(({ from, to }) => [from, to])];
  const usual = [day + 8 * HOUR_MS, day + 18 * HOUR_MS];
  const [first, last] = times.length === 0 ? usual : [Math.min(...times), Math.max(...times)];
  const from = (Math.floor(first! / HOUR_MS) * HOUR_MS) as WallMs;
  const to = Math.max(Math.ceil((last! + 1) / HOUR_MS) * HOUR_MS, from + HOUR_MS) as WallMs;
  const perMs = (INNER_PX - HOURS_FROM_PX) / (to - from);
  return { from, to, x: (at) => HOURS_FROM_PX + (Math.min(to, Math.max(from, at)) - from) * perMs };
}
