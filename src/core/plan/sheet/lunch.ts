/** Lunch is the longest pause of the track about noon. */
import { type WallMs, wallMsOf } from '../../units.js';
import type { TimetableSlot } from '../types.js';
import { DAY_MS, MINUTE_MS } from './words.js';

export interface Lunch {
  readonly from: WallMs;
  readonly to: WallMs;
}

const SHORTEST_MS = 25 * MINUTE_MS;
/** It begins within these hours. */
const HOURS = [10.5, 15] as const;

export function lunchOf(slots: readonly TimetableSlot[]): Lunch | null {
  const inOrder = [...slots].sort((a, b) => a.start - b.start);
  let end = -Infinity;
  let best: Lunch | null = null;
  for (const slot of inOrder) {
    const pause = { from: wallMsOf(end), to: slot.start };
    const hour = (((end % DAY_MS) + DAY_MS) % DAY_MS) / (60 * MINUTE_MS);
    const isAboutNoon = hour >= HOURS[0] && hour <= HOURS[1];
    const longest = best === null ? SHORTEST_MS : best.to - best.from + 1;
    if (isAboutNoon && pause.to - pause.from >= longest) best = pause;
    end = Math.max(end, slot.end);
  }
  return best;
}
