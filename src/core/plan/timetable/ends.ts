/** When a row of a timetable ends: by its word, its length, or, as a guess, by the row after it. */
import type { MinuteOfDay } from './clock.js';
import type { TimedRow } from './readTimetable.js';

export interface RowEnd {
  readonly end: MinuteOfDay | null;
  /** Says so where the row did not. */
  readonly guess: string | null;
}

/** A session without an end runs to the next line, but no longer than this. */
const LONGEST_SESSION_MIN = 75;
const LONGEST_OPEN_MIN = 300;

export function endsOf(rows: readonly TimedRow[]): ReadonlyMap<TimedRow, RowEnd> {
  const usual = usualMinutes(rows);
  return new Map(rows.map((row) => [row, endOf(row, rows, usual)]));
}

function endOf(row: TimedRow, rows: readonly TimedRow[], usual: number | null): RowEnd {
  if (row.end !== null) return { end: row.end, guess: null };
  if (row.lengthMinutes !== null) return { end: row.start + row.lengthMinutes, guess: null };
  const longest = row.isOpenPitLane || row.kind !== 'session' ? LONGEST_OPEN_MIN : LONGEST_SESSION_MIN;
  const next = nextStart(row, rows);
  if (next !== null && next - row.start <= longest) return { end: next, guess: 'It ends where the next line starts.' };
  if (usual === null || row.kind !== 'session') return { end: null, guess: null };
  return { end: row.start + usual, guess: `It is taken to be as long as most others, ${usual} min.` };
}

/** Of the lines of that day, in order of time, whatever they are. */
function nextStart(row: TimedRow, rows: readonly TimedRow[]): MinuteOfDay | null {
  const later = rows.filter(({ date, start }) => date === row.date && start > row.start).map(({ start }) => start);
  return later.length === 0 ? null : Math.min(...later);
}

/** The length most sessions say or, with none said, most have from line to line. */
function usualMinutes(rows: readonly TimedRow[]): number | null {
  const sessions = rows.filter(({ kind, isOpenPitLane }) => kind === 'session' && !isOpenPitLane);
  const said = sessions.flatMap(({ start, end, lengthMinutes }) => lengthMinutes ?? (end === null ? [] : end - start));
  const between = sessions.flatMap((row) => (nextStart(row, rows) ?? row.start + LONGEST_SESSION_MIN + 1) - row.start);
  const lengths = said.length > 0 ? said : between.filter((minutes) => minutes <= LONGEST_SESSION_MIN);
  const times = new Map<number, number>();
  for (const minutes of lengths) times.set(minutes, (times.get(minutes) ?? 0) + 1);
  return [...times].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0] ?? null;
}
