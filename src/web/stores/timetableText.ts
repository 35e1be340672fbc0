/** Reads a timetable and stands from pasted lines; every line that cannot be read is answered with a sentence. */
import type { SpotId } from '../../core/ids.js';
import type { Group, SlipRule, Timetable, TimetableSlot } from '../../core/plan/types.js';
import { type Milliseconds, millisecondsOf, type WallMs, wallMsOf } from '../../core/units.js';

export type Read<T> =
  | { readonly kind: 'read'; readonly value: T }
  | { readonly kind: 'nothing' }
  | { readonly kind: 'wrong'; readonly sentences: readonly string[] };

const TIMES = /(\d{1,2})[:.](\d{2})\s*(?:-|–|to)\s*(\d{1,2})[:.](\d{2})\s*$/;
const HOUR_MS = 3_600_000;
/** Shorter than this is a slip of the pen: no circuit is lapped in ten seconds. */
const LEAST_LAP_S = 10;

interface Times {
  readonly start: WallMs;
  readonly end: WallMs;
  readonly before: string;
}

/** The two times at the end of a line, on `date` (`YYYY-MM-DD`), and the words before them. */
function timesOf(line: string, date: string): Times | string {
  const match = TIMES.exec(line);
  if (!match) return 'expected two times at its end, as 09:00-09:20';
  const [hour, minute, endHour, endMinute] = match.slice(1).map(Number) as [number, number, number, number];
  if (hour > 23 || endHour > 24 || minute > 59 || endMinute > 59) return 'expected times of a day, from 00:00 to 24:00';
  const midnight = Date.parse(`${date}T00:00:00Z`);
  const start = wallMsOf(midnight + hour * HOUR_MS + minute * 60_000);
  const end = wallMsOf(midnight + endHour * HOUR_MS + endMinute * 60_000);
  if (end <= start) return 'expected its end after its start';
  return {
    start,
    end,
    before: line
      .slice(0, match.index)
      .trim()
      .replace(/[,:;]$/, '')
      .trim(),
  };
}

const linesOf = (text: string): readonly { readonly line: string; readonly at: number }[] =>
  text
    .split('\n')
    .map((line, i) => ({ line: line.trim(), at: i + 1 }))
    .filter(({ line }) => line !== '');

type SlotWithGroup = TimetableSlot & { readonly groupName: string };

/** `N1 Novice 09:00-09:20`: name, group, times. Without a group's name the letters of the session's name are the group. */
function slotOf(line: string, date: string): SlotWithGroup | string {
  const times = timesOf(line, date);
  if (typeof times === 'string') return times;
  const [name, ...rest] = times.before.split(/\s+/);
  if (!name) return 'expected a name before its times, as N1';
  const group = /^[^\d\s]+/.exec(name)?.[0] ?? rest[0]?.charAt(0).toUpperCase();
  if (!group) return `expected the group of ${name}, as “${name} Novice 09:00-09:20”`;
  const isSighting = /\bsighting\b/i.test(times.before);
  const groupName = rest.filter((word) => !/^sighting$/i.test(word)).join(' ') || group;
  return { name, group, start: times.start, end: times.end, groupName, ...(isSighting ? { isSighting: true } : {}) };
}

export function readTimetable(text: string, date: string, slipRule: SlipRule): Read<Timetable> {
  const read = linesOf(text).map(({ line, at }) => ({ at, line, slot: slotOf(line, date) }));
  if (read.length === 0) return { kind: 'nothing' };
  const wrong = read.flatMap(({ at, line, slot }) =>
    typeof slot === 'string' ? [`Line ${at}, “${line}”: ${slot}.`] : [],
  );
  if (wrong.length > 0) return { kind: 'wrong', sentences: wrong };
  const slots = read.flatMap(({ slot }) => (typeof slot === 'string' ? [] : [slot]));
  const twice = slots.find((slot, i) => slots.findIndex((other) => other.name === slot.name) < i);
  if (twice) return { kind: 'wrong', sentences: [`${twice.name} stands twice; each session needs its own name.`] };
  const groups = new Map<string, Group>();
  for (const { group, groupName } of slots) {
    const known = groups.get(group);
    if (!known || known.name === group) groups.set(group, { key: group, name: groupName });
  }
  return {
    kind: 'read',
    value: { groups: [...groups.values()], slots: slots.map(({ groupName: _name, ...slot }) => slot), slipRule },
  };
}

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

/** The day just read, with what was said of the meeting's other days: one timetable holds them all. */
export function withOtherDays(read: Timetable, others: Pick<Timetable, 'groups' | 'slots'>): Timetable {
  const groups = [
    ...read.groups,
    ...others.groups.filter((group) => !read.groups.some((one) => one.key === group.key)),
  ];
  return { ...read, groups, slots: [...read.slots, ...others.slots].sort((a, b) => a.start - b.start) };
}
