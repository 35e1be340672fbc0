/** How the run sheet says times, spots and shutters. */
import type { WallMs } from '../../units.js';
import type { Spot } from '../types.js';

export const MINUTE_MS = 60_000;
export const DAY_MS = 24 * 60 * MINUTE_MS;

/** `HH:MM`; seconds are nothing that anybody keeps to. */
export const clockOf = (wall: WallMs): string => new Date(wall).toISOString().slice(11, 16);

const DAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'] as const;
const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;

/** `Saturday 17 May 2031` */
export function dayInWords(wall: WallMs): string {
  const date = new Date(wall);
  return `${DAYS[date.getUTCDay()]} ${date.getUTCDate()} ${MONTHS[date.getUTCMonth()]} ${date.getUTCFullYear()}`;
}

export const spotInWords = ({ number, name }: Spot): string => `${number} ${name}`.trimEnd();

export const shutterInWords = (under: number): string => `1/${under}`;

/** `N5, I5 and F5` */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
