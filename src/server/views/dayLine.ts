/** The day line's data: hours, frames a minute, sessions, dividers, stands. */
import type { Session } from '../../core/arrange/types.js';
import { lunchOf, slotsOfDay } from '../../core/plan/timetable/index.js';
import type { TimetableSlot } from '../../core/plan/types.js';
import { type WallMs, wallMsOf } from '../../core/units.js';
import type { DayLineView, LineSessionView } from '../types.js';
import { holdOf } from './holds.js';
import type { Known } from './known.js';
import { plannedStands, type StandAt } from './plannedStands.js';
import { dateOf, dayStartOf, midnightOf } from './wallTime.js';

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
/** A track day runs 09:00–17:00 (TRADE.md, S3); an hour either side leaves room for the words at both ends. */
const USUAL_FIRST_HOUR = 8;
const USUAL_LAST_HOUR = 18;

/** Longer meetings are a mistake in `meeting.json`; the line then offers the first fortnight. */
const MOST_DAYS = 14;
const DAY_MS = 24 * HOUR_MS;

const datesOf = ({ state: { about } }: Known): readonly string[] => {
  const first = midnightOf(about.firstDay);
  const count = Math.min(MOST_DAYS, Math.max(1, Math.round((midnightOf(about.lastDay) - first) / DAY_MS) + 1));
  return Array.from({ length: count }, (_, i) => dateOf(wallMsOf(first + i * DAY_MS)));
};

/**
 * The day to draw: the one asked for when it is one of the meeting's; else today when the meeting runs today, else the
 * last of its days with frames, else its first.
 */
export function shownDate(known: Known, now: WallMs, asked?: string): string {
  const { about, arrangement } = known.state;
  if (asked !== undefined && datesOf(known).includes(asked)) return asked;
  const today = dateOf(now);
  if (today >= about.firstDay && today <= about.lastDay) return today;
  // A card may hold frames of other days; those are told of apart.
  const [first, end] = [midnightOf(about.firstDay), midnightOf(about.lastDay) + DAY_MS];
  const last = arrangement.exposures.findLast(({ wall }) => wall !== null && wall >= first && wall < end)?.wall;
  return last === undefined || last === null ? about.firstDay : dateOf(last);
}

const sessionView = (known: Known, session: Session): LineSessionView => ({
  index: session.index,
  name: session.name,
  group: session.group,
  tint: known.groupByKey.get(session.group ?? '')?.tint ?? null,
  start: session.start,
  end: session.end,
  frames: session.frames.length,
  edge:
    session.startSource.kind === 'measured'
      ? 'printed'
      : session.startSource.kind === 'said'
        ? 'initialled'
        : 'pencilled',
  held: stretchHeld(known, session),
});

const stretchHeld = (known: Known, session: Session): LineSessionView['held'] => {
  const hold = holdOf(known, session);
  return hold === null ? null : { from: hold.from, to: hold.to };
};

const slotView = (known: Known, slot: TimetableSlot): LineSessionView => ({
  index: null,
  name: slot.name,
  group: slot.group,
  tint: known.groupByKey.get(slot.group)?.tint ?? null,
  start: slot.start,
  end: slot.end,
  frames: 0,
  edge: 'printed',
  held: null,
});

/** Sessions found, and the timetable's slots that no session carries and that none overlaps. */
function lineSessions(known: Known, start: WallMs, end: WallMs): readonly LineSessionView[] {
  const { arrangement, timetable } = known.state;
  const isShown = (stretch: { readonly start: WallMs; readonly end: WallMs }) =>
    stretch.end > start && stretch.start < end;
  const found = arrangement.sessions.filter(isShown);
  const names = new Set(found.map((session) => session.name));
  const isFree = (slot: TimetableSlot) =>
    !found.some((session) => session.start < slot.end && session.end > slot.start);
  const open = (timetable?.slots ?? []).filter((slot) => isShown(slot) && !names.has(slot.name) && isFree(slot));
  return [...found.map((session) => sessionView(known, session)), ...open.map((slot) => slotView(known, slot))].sort(
    (a, b) => a.start - b.start,
  );
}

/** Where a person said to have stood on the day from `start` to `end`, in order of time. */
export const saidStands = (known: Known, start: WallMs, end: WallMs): readonly StandAt[] =>
  known.state.log.inForce
    .flatMap(({ decision }) => (decision.kind === 'stood-at' ? [decision] : []))
    .flatMap(({ spot, from, to }) => {
      const at = known.spotById.get(spot);
      return at && to > start && from < end ? [{ number: at.number, name: at.name, from, to }] : [];
    })
    .sort((a, b) => a.from - b.from || a.number - b.number);

/** Cuts stands wherever one begins or ends, so that two bodies at two spots share a stretch and no box hides another. */
export function stretchesOf(stands: readonly StandAt[]): DayLineView['stands'] {
  const cuts = [...new Set(stands.flatMap(({ from, to }) => [from, to]))].sort((a, b) => a - b);
  const out: DayLineView['stands'][number][] = [];
  for (const [i, from] of cuts.entries()) {
    const to = cuts[i + 1];
    const here = stands.filter((stand) => to !== undefined && stand.from <= from && stand.to >= to);
    if (to === undefined || here.length === 0) continue;
    const numbers = [...new Set(here.map((stand) => stand.number))].sort((a, b) => a - b);
    const spots = numbers.map((number) => ({
      number,
      name: here.find((stand) => stand.number === number)?.name ?? '',
    }));
    const last = out.at(-1);
    const isSame = last?.to === from && last.spots.map((spot) => spot.number).join() === numbers.join();
    if (last && isSame) out[out.length - 1] = { ...last, to };
    else out.push({ spots, from, to });
  }
  return out;
}

/** Where one stood by one's word; the plan that was taken where nobody said. */
function standsOfDay(known: Known, midnight: WallMs): DayLineView['stands'] {
  const said = saidStands(known, midnight, wallMsOf(midnight + DAY_MS));
  const planned = plannedStands(known.state, midnight).filter(({ from, to }) =>
    said.every((stand) => stand.to <= from || stand.from >= to),
  );
  return [
    ...stretchesOf(said),
    ...stretchesOf(planned).map((stretch) => ({ ...stretch, isPlanned: true as const })),
  ].sort((a, b) => a.from - b.from);
}

export function dayLineOf(known: Known, now: WallMs, asked?: string): DayLineView {
  const date = shownDate(known, now, asked);
  const midnight = midnightOf(date);
  const exposures = known.state.arrangement.exposures.filter(
    (exposure) => exposure.wall !== null && dayStartOf(exposure.wall) === midnight,
  );
  const sessions = lineSessions(known, midnight, wallMsOf(midnight + 24 * HOUR_MS));
  const walls = [...exposures.map((exposure) => exposure.wall as WallMs), ...sessions.flatMap((s) => [s.start, s.end])];
  const firstHour = walls.reduce(
    (hour, wall) => Math.min(hour, Math.floor((wall - midnight) / HOUR_MS)),
    USUAL_FIRST_HOUR,
  );
  const lastHour = walls.reduce(
    (hour, wall) => Math.max(hour, Math.ceil((wall - midnight) / HOUR_MS)),
    USUAL_LAST_HOUR,
  );
  const from = wallMsOf(midnight + firstHour * HOUR_MS);
  const minutes = (lastHour - firstHour) * 60;
  const measured = new Array<number>(minutes).fill(0);
  const waiting = new Array<number>(minutes).fill(0);
  for (const exposure of exposures) {
    const minute = Math.min(minutes - 1, Math.floor(((exposure.wall as WallMs) - from) / MINUTE_MS));
    const counts = exposure.role === 'unmeasured' ? waiting : measured;
    counts[minute] = (counts[minute] ?? 0) + 1;
  }
  return {
    date,
    dates: datesOf(known),
    from,
    to: wallMsOf(from + minutes * MINUTE_MS),
    measured,
    waiting,
    dividers: exposures.filter((exposure) => exposure.role === 'divider').map((exposure) => exposure.wall as WallMs),
    sessions,
    stands: standsOfDay(known, midnight),
    lunch: lunchOn(known, date),
  };
}

function lunchOn({ state: { timetable } }: Known, date: string): DayLineView['lunch'] {
  const gap = timetable && lunchOf(slotsOfDay(timetable, date), timetable.pauses ?? []);
  return gap && { from: gap.start, to: gap.end };
}
