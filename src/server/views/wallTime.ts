/** Wall times in words. A wall millisecond is read as if the wall stood in UTC, so UTC getters give the clock's face. */
import { wallOfEpoch } from '../../core/numeric/wallTime.js';
import { epochMsOf, type WallMs, wallMsOf } from '../../core/units.js';

const MS_PER_DAY = 86_400_000;
const two = (value: number): string => String(value).padStart(2, '0');

export const clockOf = (wall: WallMs): string => {
  const date = new Date(wall);
  return `${two(date.getUTCHours())}:${two(date.getUTCMinutes())}`;
};

export const clockWithSecondsOf = (wall: WallMs): string => `${clockOf(wall)}:${two(new Date(wall).getUTCSeconds())}`;

/** `YYYY-MM-DD`. */
export const dateOf = (wall: WallMs): string => new Date(wall).toISOString().slice(0, 10);

export const midnightOf = (date: string): WallMs => wallMsOf(Date.parse(`${date}T00:00:00Z`));

export const dayStartOf = (wall: WallMs): WallMs => wallMsOf(Math.floor(wall / MS_PER_DAY) * MS_PER_DAY);

/** An instant as the clock on a wall in `zone` reads it. */
export const wallIn = (zone: string, epochMs: number): WallMs => wallOfEpoch(epochMsOf(epochMs), zone);

/** `61 min 04 s`, `4 s`, `2 h 10 min`: never a sign; the sentence around it says which way. */
export function spanWords(ms: number): string {
  const seconds = Math.round(Math.abs(ms) / 1000);
  const minutes = Math.floor(seconds / 60);
  if (minutes === 0) return `${seconds} s`;
  if (minutes < 120) return seconds % 60 === 0 ? `${minutes} min` : `${minutes} min ${two(seconds % 60)} s`;
  return minutes % 60 === 0 ? `${minutes / 60} h` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}

/** A time left, as coarse as it is sure: `about 4 min`, `under a minute`. */
export const timeLeftWords = (seconds: number): string =>
  seconds < 60 ? 'under a minute' : `about ${Math.round(seconds / 60)} min`;
