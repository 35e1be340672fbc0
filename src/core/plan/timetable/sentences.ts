/** Times and names as the sentences about a timetable say them. */
import type { WallMs } from '../../units.js';

export const clockOf = (wall: WallMs): string => new Date(wall).toISOString().slice(11, 16);
export const dateOf = (wall: WallMs): string => new Date(wall).toISOString().slice(0, 10);

/** `7 min`, `1 min 30 s`; never a sign. */
export function minutesOf(ms: number): string {
  const seconds = Math.round(Math.abs(ms) / 1000);
  const minutes = Math.floor(seconds / 60);
  if (minutes === 0 && seconds > 0) return `${seconds} s`;
  return seconds % 60 === 0 ? `${minutes} min` : `${minutes} min ${seconds % 60} s`;
}

export const laterOrEarlier = (ms: number): string => (ms < 0 ? 'earlier' : 'later');
