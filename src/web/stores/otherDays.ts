/** Saying one day of a meeting again leaves its other days as they were. */
import type { Timetable } from '../../core/plan/types.js';
import type { BeforeView } from '../../server/types.js';

/** The day just read, with what was said of the meeting's other days: one timetable holds them all. */
export function withOtherDays(read: Timetable, others: BeforeView['otherDays']): Timetable {
  const { pauses: readPauses = [], curfews: readCurfews = [], ...rest } = read;
  const groups = [
    ...read.groups,
    ...others.groups.filter((group) => !read.groups.some((one) => one.key === group.key)),
  ];
  // Lines that name another day say that day anew.
  const days = new Set(read.slots.map(({ start }) => dayOf(start)));
  const kept = others.slots.filter(({ start }) => !days.has(dayOf(start)));
  const pauses = [...readPauses, ...others.pauses.filter(({ start }) => !days.has(dayOf(start)))];
  const curfews = [...readCurfews, ...others.curfews.filter((at) => !days.has(dayOf(at)))];
  return {
    ...rest,
    groups,
    slots: [...read.slots, ...kept].sort((a, b) => a.start - b.start),
    ...(pauses.length > 0 ? { pauses } : {}),
    ...(curfews.length > 0 ? { curfews } : {}),
  };
}

const dayOf = (wall: number): string => new Date(wall).toISOString().slice(0, 10);
