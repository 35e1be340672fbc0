/** The times, the day and the words of one row, whatever columns it has. */
import {
  clockOfMinute,
  findTimes,
  inFigures,
  isKeptTime,
  lengthOfCell,
  type MinuteOfDay,
  timeOfCell,
  withBareHours,
} from './clock.js';
import { type Columns, cellAt } from './columns.js';
import { findDate } from './dates.js';
import type { Row } from './rows.js';
import { PHRASES, plain, type TimetableColumn } from './words.js';

export interface RowTimes {
  readonly date: string | null;
  readonly times: readonly MinuteOfDay[];
  readonly saysHalf: boolean;
  readonly lengthMinutes: number | null;
  /** The line says until when, and not from when. */
  readonly isEndAlone: boolean;
  readonly session: string;
  /** Group, or all that is left of the line. */
  readonly words: string;
  readonly notes: string;
}

/** Null where a time is none: 25:00. */
export function timesOfRow(
  row: Row,
  columns: Columns<TimetableColumn> | null,
  days: readonly string[],
): RowTimes | null {
  const start = columns === null ? '' : cellAt(row, columns, 'start');
  return columns === null || (start === '' && !columns.has('end')) || !/\d/.test(inFigures(start))
    ? timesOfText(row, days)
    : timesOfColumns(row, columns, days);
}

function timesOfText({ cells }: Row, days: readonly string[]): RowTimes | null {
  const text = cells
    .map((cell) => (isKeptTime(cell) ? clockOfMinute(timeOfCell(cell) ?? 0) : cell))
    .filter((cell) => cell !== '')
    .join('  ');
  const dated = findDate(text, days);
  const said = dated === null ? text : dated.rest;
  const found = findTimes(isOfPause(said) ? withBareHours(said) : said);
  if (found === null) return null;
  const { minutes: times, saysHalf, lengthMinutes, isEndAlone, rest: words } = found;
  return { date: dated?.date ?? null, times, saysHalf, lengthMinutes, isEndAlone, session: '', words, notes: '' };
}

function isOfPause(text: string): boolean {
  const words = plain(text);
  return PHRASES.lunch.test(words) || PHRASES.pause.test(words);
}

function timesOfColumns(row: Row, columns: Columns<TimetableColumn>, days: readonly string[]): RowTimes | null {
  const at = (column: TimetableColumn) => cellAt(row, columns, column);
  const start = at('start');
  const whole = timeOfCell(start);
  const found = whole === null ? findTimes(start) : null;
  if (whole === null && (found === null || found.minutes.length === 0)) return null;
  const first = whole === null ? (found?.minutes ?? []) : [whole];
  const end = at('end') === '' ? null : timeOfCell(at('end'));
  if (at('end') !== '' && end === null) return null;
  const length = at('length');
  return {
    date: (findDate(at('date'), days) ?? findDate(start, days))?.date ?? null,
    times: end === null ? first : [first[0]!, end],
    saysHalf: /[ap]\.?m\b/i.test(start + at('end')),
    lengthMinutes: length === '' ? (found?.lengthMinutes ?? null) : lengthOfCell(length),
    isEndAlone: false,
    session: at('session'),
    words: columns.has('group') ? at('group') : unnamedCells(row, columns),
    notes: at('notes'),
  };
}

/** Of columns whose name says nothing here; they may hold the group. */
const unnamedCells = ({ cells }: Row, columns: Columns<TimetableColumn>): string =>
  cells.filter((cell, at) => cell !== '' && ![...columns.values()].includes(at)).join(' ');
