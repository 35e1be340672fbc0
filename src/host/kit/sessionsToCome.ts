/** How much of the day is still to come, for what cards and batteries have to last. */
import { slotsOfDay } from '../../core/plan/timetable/index.js';
import type { Timetable } from '../../core/plan/types.js';
import type { WallMs } from '../../core/units.js';

/** Sessions that begin later on the day of `now`; null: no timetable was said. */
export const sessionsToCome = (timetable: Timetable | null, now: WallMs): number | null =>
  timetable === null
    ? null
    : slotsOfDay(timetable, new Date(now).toISOString().slice(0, 10)).filter(({ start }) => start > now).length;
