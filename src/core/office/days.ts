/** Days of the calendar, as they are written on papers: no zone, no hour. */
import type { IsoDay } from './types.js';

const DAY_MS = 86_400_000;
const numberOf = (day: IsoDay): number => Date.parse(`${day}T00:00:00Z`) / DAY_MS;

export const daysBetween = (from: IsoDay, to: IsoDay): number => numberOf(to) - numberOf(from);

/** False for 30 February, too. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const ms = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(ms) && new Date(ms).toISOString().startsWith(text);
}

/** Whole years on a day; who is born on 29 February is a year older on 1 March. */
export function ageOn(born: IsoDay, day: IsoDay): number {
  const years = Number(day.slice(0, 4)) - Number(born.slice(0, 4));
  return day.slice(5) < born.slice(5) ? years - 1 : years;
}

const MONTHS = 'January February March April May June July August September October November December'.split(' ');

export const dayInWords = (day: IsoDay): string =>
  `${Number(day.slice(8))} ${MONTHS[Number(day.slice(5, 7)) - 1]} ${day.slice(0, 4)}`;
