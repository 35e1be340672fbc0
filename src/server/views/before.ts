/** The time before, as it was said: timetable, what slipped since, entries and stands, to be changed and said again. */
import { daysBetween, timetableText } from '../../core/plan/timetable/index.js';
import type { Slip } from '../../core/plan/timetable/types.js';
import type { Timetable } from '../../core/plan/types.js';
import { type WallMs, wallMsOf } from '../../core/units.js';
import { entriesOf, inForceOf } from '../../host/day/derive.js';
import type { DayState } from '../../host/day/types.js';
import type { BeforeView, SlipView } from '../types.js';
import { aboutOf } from './day.js';
import { saidStands, shownDate } from './dayLine.js';
import { knownOf } from './known.js';
import { slipSentence } from './said.js';
import { dateOf, midnightOf } from './wallTime.js';

export function beforeView(state: DayState, now: WallMs, asked?: string): BeforeView {
  const known = knownOf(state);
  const date = shownDate(known, now, asked);
  const said = inForceOf(state.log)?.said ?? state.timetable;
  return {
    asOf: state.asOf,
    date,
    days: daysBetween(state.about.firstDay, state.about.lastDay),
    zone: state.about.zone,
    now,
    timetableText: said === null ? '' : timetableText(said, date),
    slipRule: said?.slipRule ?? 'clock-fixed',
    fastestLapMs: said?.fastestLapMs ?? null,
    said,
    otherDays: otherDaysOf(said, date),
    runs: state.timetable,
    slips: slipViews(state),
    entries: entriesView(state),
    spots: aboutOf(known).spots,
    stands: saidStands(known, midnightOf(date), wallMsOf(midnightOf(date) + 86_400_000)),
    sessions: state.arrangement.sessions.map(({ name, start, end }) => ({ name, start, end })),
    initials: known.initials,
  };
}

function otherDaysOf(said: Timetable | null, date: string): BeforeView['otherDays'] {
  const slots = (said?.slots ?? []).filter(({ start }) => dateOf(start) !== date);
  return {
    groups: (said?.groups ?? []).filter(({ key }) => slots.some(({ group }) => group === key)),
    slots,
    pauses: (said?.pauses ?? []).filter(({ start }) => dateOf(start) !== date),
    curfews: (said?.curfews ?? []).filter((at) => dateOf(at) !== date),
  };
}

/** Slips since the timetable was said last, in their order, with what each of them did. */
function slipViews(state: DayState): readonly SlipView[] {
  const effects = new Map(inForceOf(state.log)?.effects.map((effect) => [effect.slip, effect.sentences]));
  return state.log.inForce.flatMap(({ decision, line }): readonly SlipView[] => {
    const sentences = decision.kind === 'slip' ? effects.get(decision.slip as Slip) : undefined;
    return decision.kind === 'slip' && sentences
      ? [{ gesture: line.gesture, slip: decision.slip, text: slipSentence(decision.slip), sentences }]
      : [];
  });
}

function entriesView(state: DayState): BeforeView['entries'] {
  const entries = entriesOf(state.log);
  if (entries === null) return null;
  const classes = new Map<string, number>();
  for (const entry of entries) classes.set(entry.class, (classes.get(entry.class) ?? 0) + 1);
  return {
    count: entries.length,
    classes: [...classes].map(([name, count]) => ({ name, count })),
    booked: entries.flatMap(({ number, class: name, wants }) =>
      wants === undefined ? [] : [{ number, class: name, wants }],
    ),
  };
}
