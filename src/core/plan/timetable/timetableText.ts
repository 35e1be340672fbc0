/** A day of a timetable as lines that {@link readTimetable} reads back to the same. */
import type { Timetable } from '../types.js';
import { slotsOfDay } from './dayParts.js';
import { clockOf, dateOf } from './sentences.js';

export function timetableText(timetable: Timetable, day: string): string {
  const nameOf = new Map(timetable.groups.map(({ key, name }) => [key, name]));
  const slots = slotsOfDay(timetable, day).map((slot) => {
    const what = slot.isOpenPitLane ? ' open pit lane' : slot.isSighting ? ' sighting' : '';
    const group = slot.isOpenPitLane ? '' : ` ${nameOf.get(slot.group) ?? slot.group}`;
    return { start: slot.start, line: `${slot.name}${group}${what} ${clockOf(slot.start)}-${clockOf(slot.end)}` };
  });
  const pauses = (timetable.pauses ?? [])
    .filter(({ start }) => dateOf(start) === day)
    .map(({ kind, start, end }) => ({
      start,
      line: `${kind === 'lunch' ? 'Lunch' : 'Pause'} ${clockOf(start)}-${clockOf(end)}`,
    }));
  const curfews = (timetable.curfews ?? [])
    .filter((at) => dateOf(at) === day)
    .map((start) => ({ start, line: `Curfew ${clockOf(start)}` }));
  return [...slots, ...pauses, ...curfews]
    .sort((a, b) => a.start - b.start)
    .map(({ line }) => line)
    .join('\n');
}
