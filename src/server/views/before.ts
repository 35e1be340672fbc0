/** The time before, as it was said: timetable and stands, as lines that can be changed and said again. */
import type { TimetableSlot } from '../../core/plan/types.js';
import { type WallMs, wallMsOf } from '../../core/units.js';
import type { DayState } from '../../host/day/types.js';
import type { BeforeView } from '../types.js';
import { aboutOf } from './day.js';
import { saidStands, shownDate } from './dayLine.js';
import { knownOf } from './known.js';
import { clockOf, dateOf, midnightOf } from './wallTime.js';

export function beforeView(state: DayState, now: WallMs, asked?: string): BeforeView {
  const known = knownOf(state);
  const groups = new Map(known.groups.map((group) => [group.key, group.name]));
  const date = shownDate(known, now, asked);
  const slots = state.timetable?.slots ?? [];
  const isOfDate = (slot: TimetableSlot) => dateOf(slot.start) === date;
  const otherSlots = slots.filter((slot) => !isOfDate(slot));
  const otherGroups = (state.timetable?.groups ?? []).filter((group) =>
    otherSlots.some((slot) => slot.group === group.key),
  );
  const lines = slots
    .filter(isOfDate)
    .map((slot) => `${slot.name} ${groups.get(slot.group) ?? slot.group} ${clockOf(slot.start)}-${clockOf(slot.end)}`);
  return {
    asOf: state.asOf,
    date,
    timetableText: lines.join('\n'),
    slipRule: state.timetable?.slipRule ?? 'clock-fixed',
    fastestLapMs: state.timetable?.fastestLapMs ?? null,
    otherDays: { groups: otherGroups, slots: otherSlots },
    spots: aboutOf(known).spots,
    stands: saidStands(known, midnightOf(date), wallMsOf(midnightOf(date) + 86_400_000)),
    sessions: state.arrangement.sessions.map(({ name, start, end }) => ({ name, start, end })),
    initials: known.initials,
  };
}
