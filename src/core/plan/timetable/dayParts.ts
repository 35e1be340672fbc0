/** A day of the timetable: its slots, its lunch, its end. */
import { millisecondsOf, type WallMs, wallMsOf } from '../../units.js';
import type { Pause, Timetable, TimetableSlot } from '../types.js';
import { dateOf } from './sentences.js';

const MINUTE_MS = 60_000;
/** Lunch gives way to lateness, but this much of it stays: riders and marshals eat, and both cards are brought in. */
export const LEAST_LUNCH_MS = millisecondsOf(30 * MINUTE_MS);
/** A session that the day's end would leave shorter than this is not sent out. */
export const LEAST_SESSION_MS = millisecondsOf(10 * MINUTE_MS);
/** Where nobody said lunch, it is the longest gap that begins between these hours, unless it is shorter than the least. */
const LUNCH_FROM_HOUR = 11;
const LUNCH_TO_HOUR = 14.5;
const HOUR_MS = 60 * MINUTE_MS;

export const slotsOfDay = (timetable: Pick<Timetable, 'slots'>, day: string): readonly TimetableSlot[] =>
  timetable.slots.filter(({ start }) => dateOf(start) === day).sort((a, b) => a.start - b.start);

export interface Gap {
  readonly start: WallMs;
  readonly end: WallMs;
}

/** Between one session and the next. `slots` in order of time. */
export const gapsOf = (slots: readonly TimetableSlot[]): readonly Gap[] =>
  slots.flatMap((slot, i) => {
    const next = slots[i + 1];
    return next && next.start > slot.end ? [{ start: slot.end, end: next.start }] : [];
  });

/** The gap in which lunch lies; null where the day has none. */
export function lunchOf(slots: readonly TimetableSlot[], pauses: readonly Pause[]): Gap | null {
  const gaps = gapsOf(slots);
  const said = pauses.find(
    ({ kind, start }) => kind === 'lunch' && slots[0] && dateOf(start) === dateOf(slots[0].start),
  );
  if (said) return gaps.find(({ start, end }) => start < said.end && end > said.start) ?? null;
  const aboutNoon = gaps.filter(({ start, end }) => {
    const hour = (start - Date.parse(dateOf(start))) / HOUR_MS;
    return end - start >= LEAST_LUNCH_MS && hour >= LUNCH_FROM_HOUR && hour <= LUNCH_TO_HOUR;
  });
  return aboutNoon.sort((a, b) => b.end - b.start - (a.end - a.start))[0] ?? null;
}

/** The curfew that was said, else the end of the last session or pause as the timetable said it. */
export function dayEndOf(timetable: Timetable, day: string): WallMs {
  const curfew = timetable.curfews?.find((at) => dateOf(at) === day);
  const said = [...timetable.slots, ...(timetable.pauses ?? [])].filter(({ start }) => dateOf(start) === day);
  return curfew ?? wallMsOf(Math.max(...said.map(({ end }) => end)));
}

/**
 * Lunch goes with the sessions about it: it is the gap before the afternoon's first, wherever that has moved. Said of every
 * day whose sessions changed, so that a later slip still finds it.
 */
export function keepLunch(before: Timetable, after: Timetable): Timetable {
  const days = new Set(before.slots.map(({ start }) => dateOf(start)));
  const moved = [...days].flatMap((day): readonly (readonly [string, Pause | null])[] => {
    const [was, is] = [slotsOfDay(before, day), slotsOfDay(after, day)];
    const lunch = lunchOf(was, before.pauses ?? []);
    if (lunch === null || isSame(was, is)) return [];
    const names = new Set(was.filter(({ start }) => start >= lunch.end).map(({ name }) => name));
    const first = is.find(({ name }) => names.has(name));
    const gap = gapsOf(is).find(({ end }) => end === first?.start);
    return [[day, gap ? { kind: 'lunch', name: 'Lunch', ...gap } : null]];
  });
  if (moved.length === 0) return after;
  const stays = (after.pauses ?? []).filter(
    ({ kind, start }) => kind !== 'lunch' || !moved.some(([day]) => day === dateOf(start)),
  );
  const pauses = [...stays, ...moved.flatMap(([, pause]) => pause ?? [])].sort((a, b) => a.start - b.start);
  return { ...after, pauses };
}

const isSame = (a: readonly TimetableSlot[], b: readonly TimetableSlot[]): boolean =>
  a.length === b.length && a.every((slot, i) => slot === b[i]);
