/** The calendar fetched last, kept with what else was made of the meeting: what fell out of the plan since is cancelled by it. Rule PL622. */
import { mkdir, readFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { RunSheet } from '../../../core/plan/sheet/types.js';
import { writeWhole } from '../../meeting/writeWhole.js';
import { type CalendarOptions, runSheetCalendar } from './runSheetCalendar.js';

/** Of one day and photographer, from 0: each has a calendar of their own. */
export const sheetPlace = (folder: string, date: string, photographer: number): string =>
  join(folder, 'made', 'sheets', `run-sheet-${date}${photographer === 0 ? '' : `-${photographer + 1}`}`);

/** A folder that cannot be written to costs what would be cancelled next time, never the calendar. */
export async function calendarKept(
  folder: string,
  date: string,
  sheet: RunSheet,
  options: Omit<CalendarOptions, 'before'>,
): Promise<string> {
  const path = `${sheetPlace(folder, date, options.photographer)}.ics`;
  const there = await readFile(path, 'utf8').catch(() => '');
  const isCalendar = there.startsWith('BEGIN:VCALENDAR');
  const calendar = runSheetCalendar(sheet, { ...options, ...(isCalendar ? { before: there } : {}) });
  if (isCalendar || there === '')
    await mkdir(dirname(path), { recursive: true })
      .then(() => writeWhole(path, calendar))
      .catch(() => undefined);
  return calendar;
}
