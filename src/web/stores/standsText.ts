/** Reads stands and a lap from written lines; every line that cannot be read is answered with a sentence. */
import type { SpotId } from '../../core/ids.js';
import { findTimes } from '../../core/plan/timetable/index.js';
import { type Milliseconds, millisecondsOf, type WallMs, wallMsOf } from '../../core/units.js';

export type Read<T> =
  | { readonly kind: 'read'; readonly value: T }
  | { readonly kind: 'nothing' }
  | { readonly kind: 'wrong'; readonly sentences: readonly string[] };

/** Shorter than this is a slip of the pen: no circuit is lapped in ten seconds. */
const LEAST_LAP_S = 10;

interface Times {
  readonly start: WallMs;
  readonly end: WallMs;
  readonly before: string;
}

/** The two times of a line, on `date` (`YYYY-MM-DD`), and the words beside them. */
function timesOf(line: string, date: string): Times | string {
  const found = findTimes(line);
  if (found === null) return 'expected times of a day, from 00:00 to 24:00';
  const [start, end] = found.minutes;
  if (start === undefined || end === undefined) return 'expected two times at its end, as 09:00-09:20';
  if (end <= start) return 'expected its end after its start';
  const midnight = Date.parse(`${date}T00:00:00Z`);
  const wallOf = (minute: number) => wallMsOf(midnight + minute * 60_000);
  return { start: wallOf(start), end: wallOf(end), before: found.rest.replace(/[,:;]$/, '').trim() };
}

const linesOf = (text: string): readonly { readonly line: string; readonly at: number }[] =>
  text
    .split('\n')
    .map((line, i) => ({ line: line.trim(), at: i + 1 }))
    .filter(({ line }) => line !== '');

export interface StandRead {
  readonly spot: SpotId;
  readonly from: WallMs;
  readonly to: WallMs;
}

interface SpotKnown {
  readonly id: SpotId;
  readonly number: number;
  readonly name: string;
}

const spotOf = (words: string, spots: readonly SpotKnown[]): SpotKnown | undefined =>
  spots.find(
    (spot) =>
      words === String(spot.number) ||
      words.toLowerCase() === spot.name.toLowerCase() ||
      words.toLowerCase() === `${spot.number} ${spot.name}`.toLowerCase(),
  );

export interface StandsRead {
  readonly stands: readonly StandRead[];
  /** Every spot of the meeting, those just named among them; null where none is new. */
  readonly spots: readonly SpotKnown[] | null;
}

/** `Beacon 08:56-10:00` or `1 08:56-10:00`. A name that is not known yet makes a new spot. */
export function readStands(text: string, date: string, known: readonly SpotKnown[]): Read<StandsRead> {
  const spots = [...known];
  const read = linesOf(text).map(({ line, at }): StandRead | string => {
    const times = timesOf(line, date);
    if (typeof times === 'string') return `Line ${at}, “${line}”: ${times}.`;
    const spot = spotOf(times.before, spots) ?? newSpot(times.before, spots);
    if (!spot) return `Line ${at}, “${line}”: expected the name of a spot before its times, as Beacon.`;
    if (!spots.includes(spot)) spots.push(spot);
    return { spot: spot.id, from: times.start, to: times.end };
  });
  if (read.length === 0) return { kind: 'nothing' };
  const wrong = read.filter((stand) => typeof stand === 'string');
  if (wrong.length > 0) return { kind: 'wrong', sentences: wrong };
  const stands = read.filter((stand) => typeof stand !== 'string');
  return { kind: 'read', value: { stands, spots: spots.length > known.length ? spots : null } };
}

/** Numbered on from the last one; a bare number names nothing. */
function newSpot(words: string, spots: readonly SpotKnown[]): SpotKnown | undefined {
  const name = words.replace(/^\d+\s+/, '');
  const id = name.toLowerCase().replaceAll(/[^\p{L}\p{N}]+/gu, '-');
  if (!/\p{L}/u.test(name) || spots.some((spot) => spot.id === id)) return undefined;
  return { id: id as SpotId, number: Math.max(0, ...spots.map((spot) => spot.number)) + 1, name };
}

/** A lap as `1:35` or `1:35.4`, in milliseconds. */
export function readLap(text: string): Read<Milliseconds> {
  if (text.trim() === '') return { kind: 'nothing' };
  const match = /^\s*(\d{1,2}):(\d{2}(?:\.\d{1,3})?)\s*$/.exec(text);
  const seconds = match ? Number(match[1]) * 60 + Number(match[2]) : 0;
  if (!match || Number(match[2]) >= 60 || seconds < LEAST_LAP_S)
    return {
      kind: 'wrong',
      sentences: [`The fastest lap, “${text.trim()}”: expected minutes and seconds, as 1:35.0.`],
    };
  return { kind: 'read', value: millisecondsOf(Math.round(seconds * 1000)) };
}
