/** The time before, as it was said: timetable and stands, as lines that can be changed and said again. */
import type { WallMs } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import type { BeforeView } from '../types.js';
import { aboutOf } from './day.js';
import { dayLineOf, shownDate } from './dayLine.js';
import { knownOf } from './known.js';
import { clockOf } from './wallTime.js';

export function beforeView(state: DayState, now: WallMs): BeforeView {
  const known = knownOf(state);
  const groups = new Map(known.groups.map((group) => [group.key, group.name]));
  const lines = (state.timetable?.slots ?? []).map(
    (slot) => `${slot.name} ${groups.get(slot.group) ?? slot.group} ${clockOf(slot.start)}-${clockOf(slot.end)}`,
  );
  return {
    asOf: state.asOf,
    date: shownDate(known, now),
    timetableText: lines.join('\n'),
    slipRule: state.timetable?.slipRule ?? 'clock-fixed',
    spots: aboutOf(known).spots,
    stands: dayLineOf(known, now).stands,
    sessions: state.arrangement.sessions.map(({ name, start, end }) => ({ name, start, end })),
    initials: known.initials,
  };
}
