/**
 * Rows of an organiser's timetable → what each of them is taken for, for a person to take or mend. Nothing is thrown away
 * silently: every row comes back as a line with its number, and what was filled in is said.
 */
import { type WallMs, wallMsOf } from '../../units.js';
import type { Group, Pause, SlipRule, TimetableSlot } from '../types.js';
import { clockOfMinute, findTimes, type MinuteOfDay } from './clock.js';
import { type Columns, columnsInWords, columnsOf } from './columns.js';
import { endsOf } from './ends.js';
import { unfoldGrid } from './grid.js';
import { GroupNames, nameOfNth, type SessionWords, sessionWordsOf } from './naming.js';
import type { Row } from './rows.js';
import { type RowTimes, timesOfRow } from './rowTimes.js';
import { troublesOf } from './troubles.js';
import type { TimetableLine, TimetablePreview } from './types.js';
import { PHRASES, plain, TIMETABLE_COLUMNS, type TimetableColumn } from './words.js';

export interface ReadTimetableOptions {
  /** Of the first lines, until one says another, `YYYY-MM-DD`. */
  readonly date: string;
  /** Days of the meeting, for `Saturday` and `Day 2`. */
  readonly days: readonly string[];
  readonly slipRule: SlipRule;
  /** IANA zone of the meeting. */
  readonly zone: string;
  /** Groups named before: their keys stay. */
  readonly groups?: readonly Group[];
}

const OPEN_PIT_LANE = 'Open pit lane';
const MINUTE_MS = 60_000;
const DAY_MINUTES = 1440;
const NOON = 720;
/** Nobody rides before it; an earlier hour without am or pm, after a later one, is in the afternoon. */
const FIRST_LIGHT: MinuteOfDay = 7 * 60;
/** No twelve-hour clock says 0 for an hour. */
const FIRST_HOUR: MinuteOfDay = 60;
/** What is on after this may go on past midnight; a small hour after the later of them is no afternoon's. */
const EVENING: MinuteOfDay = 18 * 60;
const NIGHT: MinuteOfDay = 22 * 60;

/** A row that has a time, before the rows around it are looked at. */
export interface TimedRow {
  readonly at: number;
  readonly text: string;
  readonly date: string;
  readonly start: MinuteOfDay;
  readonly end: MinuteOfDay | null;
  readonly lengthMinutes: number | null;
  readonly kind: 'session' | 'lunch' | 'pause' | 'end' | 'elsewhere';
  readonly words: SessionWords;
  /** The group of the heading above. */
  readonly heading: string;
  readonly isSighting: boolean;
  readonly isOpenPitLane: boolean;
  readonly guesses: readonly string[];
}

type Sorted = { readonly timed: readonly TimedRow[] } | { readonly line: TimetableLine };

export function readTimetable(rows: readonly Row[], options: ReadTimetableOptions): TimetablePreview {
  const sorted = sortRows(unfoldGrid(rows), options);
  const ends = endsOf(sorted.flatMap((row) => ('timed' in row ? row.timed : [])));
  const names = groupsOf([...ends.keys()], options.groups ?? []);
  const taken = new Set<string>();
  const lines = sorted.flatMap((row): readonly TimetableLine[] =>
    'line' in row ? [row.line] : row.timed.map((timed) => lineOf(timed, ends, names, taken)),
  );
  return { lines, ...assemble(lines, names, options) };
}

const textOf = (row: Row): string => row.cells.filter((cell) => cell !== '').join(' ');

/** Keeps in mind what rows above said: columns, the day, the group of a heading, how late it was. */
function sortRows(rows: readonly Row[], { date, days }: ReadTimetableOptions): readonly Sorted[] {
  let columns: Columns<TimetableColumn> | null = null;
  let day = date;
  let heading = '';
  let latest: MinuteOfDay = 0;
  return rows.map((row): Sorted => {
    const about = { at: row.at, text: textOf(row) };
    if (row.heads)
      return { line: { ...about, kind: 'columns', sentence: `Names the columns: ${row.heads.join(', ')}.` } };
    const named = columnsOf(row, TIMETABLE_COLUMNS);
    if (named && !/\d[:.h]\d\d/.test(about.text)) {
      columns = named;
      return { line: { ...about, kind: 'columns', sentence: columnsInWords(row, named) } };
    }
    const read = timesOfRow(row, columns, days);
    if (read === null) return { line: wrong(about, 'expected times of a day, from 00:00 to 24:00') };
    if (read.date !== null && read.date !== day) [day, latest] = [read.date, 0];
    if (read.times.length === 0) {
      if (read.date !== null) return { line: { ...about, kind: 'day', date: day } };
      heading = headingOf(about.text) ?? heading;
      return { line: { ...about, ...withoutTime(about.text) } };
    }
    if (read.isEndAlone && !saysEndOfDay(read))
      return { line: wrong(about, 'expected when it begins, as 09:00-09:20, but it only says until when') };
    const [first] = read.times;
    const later = laterBy(first!, latest, read.saysHalf);
    latest = Math.max(latest, first! + later);
    return { timed: timedRows(about, read, { day, heading, later }) };
  });
}

/** Half a day for an hour of the afternoon, a whole one past midnight, by how late it was in the lines above. */
function laterBy(first: MinuteOfDay, latest: MinuteOfDay, saysHalf: boolean): number {
  if (first >= FIRST_LIGHT || latest <= first) return 0;
  if (latest >= (first < FIRST_HOUR ? EVENING : NIGHT)) return DAY_MINUTES;
  return saysHalf || first < FIRST_HOUR ? 0 : NOON;
}

/** An end that stands before its start is after noon or, in the evening, after midnight. */
function endBehind(start: MinuteOfDay, end: MinuteOfDay, later: number): MinuteOfDay {
  if (end + later > start || end >= FIRST_LIGHT) return end + later;
  if (start >= EVENING) return end + later + DAY_MINUTES;
  return end >= FIRST_HOUR ? end + NOON : end;
}

const wrong = (about: { at: number; text: string }, what: string): TimetableLine => ({
  ...about,
  kind: 'not-understood',
  sentence: `Line ${about.at}, “${about.text}”: ${what}.`,
});

/** Three words at most, and nothing of the programme: the group of the lines below. */
function headingOf(text: string): string | null {
  const words = plain(text);
  const isOther = [PHRASES.elsewhere, PHRASES.lunch, PHRASES.pause, PHRASES.end].some((phrase) => phrase.test(words));
  const { code, group } = sessionWordsOf('', text);
  return code === null && !isOther && group !== '' && words.split(' ').length <= 3 && !/\d{4}/.test(words)
    ? group
    : null;
}

function withoutTime(text: string): { kind: 'left-out'; sentence: string } | { kind: 'heading'; group: string } {
  const group = headingOf(text);
  return group === null ? { kind: 'left-out', sentence: 'No time of day stands in it.' } : { kind: 'heading', group };
}

interface Above {
  readonly day: string;
  readonly heading: string;
  /** In minutes: what its hours lack. */
  readonly later: number;
}

function timedRows(about: { at: number; text: string }, read: RowTimes, above: Above): readonly TimedRow[] {
  const words = sessionWordsOf(read.session, read.words);
  const all = plain(`${read.session} ${read.words} ${read.notes}`);
  const kind = kindOf(all, read, words);
  const { later } = above;
  const guesses = later === 0 ? [] : [`It is read as after ${later === NOON ? 'noon' : 'midnight'}.`];
  return pairsOf(read.times, about.text).map(([start, end]) => ({
    ...about,
    date: above.day,
    start: start + later,
    end: end === null ? null : endBehind(start + later, end, later),
    lengthMinutes: read.lengthMinutes,
    kind,
    words,
    heading: above.heading,
    isSighting: PHRASES.sighting.test(all),
    isOpenPitLane: PHRASES.openPitLane.test(all),
    guesses,
  }));
}

/** `Track time until 17:00` is no session, but `the end of the day`: until when is all there is to say of it. */
const saysEndOfDay = ({ session, words, notes }: RowTimes): boolean =>
  [PHRASES.end, PHRASES.elsewhere].some((phrase) => phrase.test(plain(`${session} ${words} ${notes}`)));

function kindOf(all: string, read: RowTimes, words: SessionWords): TimedRow['kind'] {
  if (words.code !== null || PHRASES.openPitLane.test(all)) return 'session';
  if (PHRASES.lunch.test(all)) return 'lunch';
  if (PHRASES.pause.test(all)) return 'pause';
  if (read.times.length === 1 && PHRASES.end.test(all)) return 'end';
  return PHRASES.elsewhere.test(all) ? 'elsewhere' : 'session';
}

/** Two times are a start and an end; of more, pairs where strokes join them, else each is a start. */
function pairsOf(times: readonly MinuteOfDay[], text: string): readonly (readonly [MinuteOfDay, MinuteOfDay | null])[] {
  if (times.length <= 2) return [[times[0]!, times[1] ?? null]];
  const joined = text.match(/\d\s*[-–—]\s*\d{1,2}[:.h]/g)?.length ?? 0;
  if (joined * 2 !== times.length) return times.map((time) => [time, null]);
  return times.flatMap((time, i) => (i % 2 === 0 ? [[time, times[i + 1]!] as const] : []));
}

/** Codes first: `N1 Novice` fixes the key of every line that says only Novice. */
function groupsOf(rows: readonly TimedRow[], known: readonly Group[]): GroupNames {
  const names = new GroupNames(known);
  for (const { words, kind, isOpenPitLane } of rows)
    if (kind === 'session' && words.code !== null)
      names.said(words.code.letters, words.group || (isOpenPitLane ? OPEN_PIT_LANE : ''));
  return names;
}

function lineOf(
  row: TimedRow,
  ends: ReadonlyMap<TimedRow, { readonly end: MinuteOfDay | null; readonly guess: string | null }>,
  names: GroupNames,
  taken: Set<string>,
): TimetableLine {
  const about = { at: row.at, text: row.text };
  if (row.kind === 'elsewhere')
    return { ...about, kind: 'left-out', sentence: 'It is on the programme, not on track.' };
  const wallOf = (minute: MinuteOfDay): WallMs => wallMsOf(Date.parse(`${row.date}T00:00:00Z`) + minute * MINUTE_MS);
  if (row.kind === 'end') return { ...about, kind: 'curfew', curfew: wallOf(row.start) };
  const { end, guess } = ends.get(row) ?? { end: null, guess: null };
  if (end === null) return wrong(about, 'expected an end or a length too, as 09:00-09:20');
  if (end <= row.start) return wrong(about, 'expected its end after its start');
  if (end > DAY_MINUTES + FIRST_LIGHT) return wrong(about, 'expected times of a day, from 00:00 to 24:00');
  const guesses = [...row.guesses, ...(guess === null ? [] : [guess])];
  const span = { start: wallOf(row.start), end: wallOf(end) };
  if (row.kind !== 'session') {
    const pause: Pause = { kind: row.kind, name: row.kind === 'lunch' ? 'Lunch' : 'Pause', ...span };
    return { ...about, kind: 'pause', pause, guesses };
  }
  return sessionLine(row, span, names, taken, guesses);
}

function sessionLine(
  row: TimedRow,
  span: { readonly start: WallMs; readonly end: WallMs },
  names: GroupNames,
  taken: Set<string>,
  guesses: readonly string[],
): TimetableLine {
  const about = { at: row.at, text: row.text };
  const groupName = row.words.group || (row.isOpenPitLane ? OPEN_PIT_LANE : row.heading);
  const key = row.words.code?.letters ?? (groupName === '' ? null : names.keyOf(groupName));
  if (key === null) {
    const what = findTimes(row.text)?.rest || clockOfMinute(row.start);
    return wrong(about, `expected the group of ${what}, as “${what} Novice 09:00-09:20”`);
  }
  const isTaken = (name: string) => taken.has(`${row.date} ${name}`);
  const said = row.words.code?.name ?? (row.words.nth === null ? null : nameOfNth(key, row.words.nth));
  if (row.words.code !== null && said !== null && isTaken(said))
    return wrong(about, `${said} stands twice; each session needs its own name`);
  let nth = 1;
  while (isTaken(nameOfNth(key, nth))) nth++;
  const name = said !== null && !isTaken(said) ? said : nameOfNth(key, nth);
  taken.add(`${row.date} ${name}`);
  const slot: TimetableSlot = {
    name,
    group: key,
    ...span,
    ...(row.isSighting ? { isSighting: true } : {}),
    ...(row.isOpenPitLane ? { isOpenPitLane: true } : {}),
  };
  return { ...about, kind: 'session', slot, groupName: names.nameOf(key), guesses };
}

function assemble(
  lines: readonly TimetableLine[],
  names: GroupNames,
  { slipRule, zone, days }: ReadTimetableOptions,
): Pick<TimetablePreview, 'timetable' | 'troubles'> {
  const inTime = <T extends { readonly start: number }>(all: readonly T[]) =>
    [...all].sort((a, b) => a.start - b.start);
  const slots = inTime(lines.flatMap((line) => (line.kind === 'session' ? [line.slot] : [])));
  if (slots.length === 0) return { timetable: null, troubles: [] };
  const pauses = inTime(lines.flatMap((line) => (line.kind === 'pause' ? [line.pause] : [])));
  const curfews = lines.flatMap((line) => (line.kind === 'curfew' ? [line.curfew] : []));
  const keys = [...new Set(slots.map(({ group }) => group))];
  return {
    timetable: {
      groups: keys.map((key) => ({ key, name: names.nameOf(key) })),
      slots,
      slipRule,
      ...(pauses.length > 0 ? { pauses } : {}),
      ...(curfews.length > 0 ? { curfews } : {}),
    },
    troubles: troublesOf(slots, pauses, { zone, days }),
  };
}
