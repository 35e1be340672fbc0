/** What a slip would do that nobody says by the way: a figure too many drops half a day. */
import type { Timetable } from '../types.js';
import { applySlips } from './applySlips.js';
import { lunchOf, slotsOfDay } from './dayParts.js';
import type { TimetableInForce } from './inForce.js';
import { minutesOf } from './sentences.js';
import type { Slip } from './types.js';

/** Less is no lunch: the cards are not even in. */
const SHORT_LUNCH_MS = 20 * 60_000;
const LONG_MOVE_MS = 60 * 60_000;

/** Each in words that follow “it”; empty where the slip may be taken as it is said. Rule PL293. */
export function heavyOf({ said, effects, timetable }: TimetableInForce, slip: Slip): readonly string[] {
  const after = applySlips(said, [...effects.map((effect) => effect.slip), slip]);
  const changes = after.effects.at(-1)?.changes ?? [];
  const dropped = changes.filter((change) => change.kind === 'dropped' && !isAsked(slip, change.slot));
  const furthest = Math.max(0, ...changes.map((change) => (change.kind === 'moved' ? Math.abs(change.byMs) : 0)));
  const lunches = [...new Set(changes.map(({ day }) => day))].flatMap((day) => {
    const [was, is] = lunchesMs(timetable, after.timetable, day);
    return is < SHORT_LUNCH_MS && is < was ? [`leaves ${minutesOf(is)} of lunch`] : [];
  });
  return [
    ...(dropped.length === 0 ? [] : [`drops ${dropped.length} ${dropped.length === 1 ? 'session' : 'sessions'}`]),
    ...lunches,
    ...(furthest > LONG_MOVE_MS ? [`moves sessions by ${minutesOf(furthest)}`] : []),
  ];
}

const isAsked = (slip: Slip, slot: string): boolean => slip.kind === 'dropped' && slip.slot === slot;

/** Before and after: from the last of the morning's sessions to the first of the afternoon's, whatever hour these have. */
function lunchesMs(before: Timetable, after: Timetable, day: string): readonly [number, number] {
  const [were, are] = [slotsOfDay(before, day), slotsOfDay(after, day)];
  const lunch = lunchOf(were, before.pauses ?? []);
  if (lunch === null) return [0, 0];
  const morning = new Set(were.filter(({ end }) => end <= lunch.start).map(({ name }) => name));
  const afternoon = new Set(were.filter(({ start }) => start >= lunch.end).map(({ name }) => name));
  const last = are.findLast(({ name }) => morning.has(name));
  const first = are.find(({ name }) => afternoon.has(name));
  const was = lunch.end - lunch.start;
  return last && first ? [was, first.start - last.end] : [was, was];
}
