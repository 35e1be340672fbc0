/**
 * The timetable as it runs after what was told from the track side. Two rules, as organisers use them: by the clock, a lost
 * minute is lost and the session it hits is cut; sliding, everything after moves, lunch gives way down to its least, and what
 * the day's end no longer holds is dropped. Sessions keep their order and never overlap. Rules PL210–PL222.
 */
import { type WallMs, wallMsOf } from '../../units.js';
import type { Timetable, TimetableSlot } from '../types.js';
import { changesOf } from './changes.js';
import { dayEndOf, gapsOf, keepLunch, LEAST_LUNCH_MS, LEAST_SESSION_MS, lunchOf, slotsOfDay } from './dayParts.js';
import { clockOf, dateOf, minutesOf } from './sentences.js';
import type { Slip, SlipEffect, Slipped } from './types.js';

/** In the order they were said. Each is understood of the timetable as the ones before left it. */
export function applySlips(said: Timetable, slips: readonly Slip[]): Slipped {
  const effects: SlipEffect[] = [];
  let timetable = said;
  for (const slip of slips.filter((slip, i) => !isSaidAgain(slip, slips.slice(i + 1)))) {
    const { next: slots, opening } = applySlip(timetable, slip, said);
    const next = keepLunch(timetable, slots);
    const changes = changesOf(timetable, next);
    effects.push({ slip, changes: changes.changes, sentences: [...opening, ...changes.sentences] });
    timetable = next;
  }
  return { timetable, effects };
}

/** When the track opens again is said of the same flag later: the two are one. */
const isSaidAgain = (slip: Slip, later: readonly Slip[]): boolean =>
  slip.kind === 'red-flag' &&
  slip.resumesAt === undefined &&
  later.some((other) => other.kind === 'red-flag' && other.at === slip.at);

interface Step {
  readonly next: Timetable;
  /** What the slip itself is, before what follows from it. */
  readonly opening: readonly string[];
}

/** The day a slip falls on, as it stands before the slip. */
interface DayNow {
  readonly timetable: Timetable;
  readonly day: string;
  readonly slots: readonly TimetableSlot[];
  readonly end: WallMs;
}

function applySlip(timetable: Timetable, slip: Slip, said: Timetable): Step {
  switch (slip.kind) {
    case 'late': {
      const slot = slotOf(timetable, slip.slot, slip.on);
      return slot === null
        ? nothing(timetable, noSlot(slip.slot))
        : late(dayOf(timetable, slot.start, said), slot, slip.byMs);
    }
    case 'dropped': {
      const slot = slotOf(timetable, slip.slot, slip.on);
      if (slot === null) return nothing(timetable, noSlot(slip.slot));
      return {
        next: withSlots(
          timetable,
          timetable.slots.filter((one) => one !== slot),
        ),
        opening: [],
      };
    }
    case 'red-flag':
      return redFlag(dayOf(timetable, slip.at, said), slip.at, slip.resumesAt);
    case 'lunch-shorter':
      return lunchShorter(dayOf(timetable, slip.at, said), slip.at, slip.byMs);
    case 'group-added':
      return groupAdded(timetable, slip, said);
  }
}

const nothing = (timetable: Timetable, sentence: string): Step => ({ next: timetable, opening: [sentence] });

const noSlot = (name: string): string => `Expected a session of the timetable but ${name} is none; nothing moved.`;

const slotOf = (timetable: Timetable, name: string, on: string | undefined): TimetableSlot | null =>
  timetable.slots.find((slot) => slot.name === name && (on === undefined || dateOf(slot.start) === on)) ?? null;

function dayOf(timetable: Timetable, at: WallMs, said: Timetable): DayNow {
  const day = dateOf(at);
  const hasDay = said.slots.some(({ start }) => dateOf(start) === day);
  return { timetable, day, slots: slotsOfDay(timetable, day), end: dayEndOf(hasDay ? said : timetable, day) };
}

const withSlots = (timetable: Timetable, slots: readonly TimetableSlot[]): Timetable => ({
  ...timetable,
  slots: [...slots].sort((a, b) => a.start - b.start),
});

/** The day's slots in place of those before; other days stay. */
const withDay = ({ timetable, day }: DayNow, slots: readonly TimetableSlot[]): Timetable =>
  withSlots(timetable, [...timetable.slots.filter(({ start }) => dateOf(start) !== day), ...slots]);

function late(now: DayNow, slot: TimetableSlot, byMs: number): Step {
  const { slots, timetable } = now;
  const at = slots.indexOf(slot);
  if (byMs < 0) {
    const earliest = slots[at - 1]?.end ?? slot.start + byMs;
    const start = wallMsOf(Math.max(slot.start + byMs, Math.min(earliest, slot.start)));
    return {
      next: withDay(now, slots.with(at, { ...slot, start, end: wallMsOf(slot.end - (slot.start - start)) })),
      opening: [],
    };
  }
  if (timetable.slipRule === 'sliding') return { next: withDay(now, slide(now, at, slot.start, byMs)), opening: [] };
  return { next: withDay(now, lose(slots, wallMsOf(slot.start), wallMsOf(slot.start + byMs))), opening: [] };
}

/** By the clock: from `from` to `to` nobody rides. A session under way at `from` is not looked at here. */
const lose = (slots: readonly TimetableSlot[], from: WallMs, to: WallMs): readonly TimetableSlot[] =>
  slots.flatMap((slot) => {
    if (slot.start < from || slot.start >= to) return [slot];
    return slot.end <= to ? [] : [{ ...slot, start: to }];
  });

/**
 * Sliding: the slots from index `first` on move. What lies before lunch moves by all of it; lunch gives what it has above
 * its least, and the rest moves the afternoon. `since`: where the delay begins.
 */
function slide(now: DayNow, first: number, since: WallMs, byMs: number): readonly TimetableSlot[] {
  const { slots, timetable } = now;
  const lunch = lunchOf(slots, timetable.pauses ?? []);
  const given =
    lunch && lunch.start >= since ? Math.min(byMs, Math.max(0, lunch.end - lunch.start - LEAST_LUNCH_MS)) : 0;
  const moved = slots.slice(first).map((slot) => {
    const by = lunch && slot.start >= lunch.end ? byMs - given : byMs;
    return { ...slot, start: wallMsOf(slot.start + by), end: wallMsOf(slot.end + by) };
  });
  return [...slots.slice(0, first), ...moved.flatMap((slot) => beforeTheEnd(slot, now.end))];
}

/** The day's end cuts a session or, where too little is left, drops it. */
function beforeTheEnd(slot: TimetableSlot, end: WallMs): readonly TimetableSlot[] {
  if (slot.end <= end) return [slot];
  return end - slot.start >= LEAST_SESSION_MS ? [{ ...slot, end }] : [];
}

function redFlag(now: DayNow, at: WallMs, resumesAt: WallMs | undefined): Step {
  const { slots, timetable } = now;
  const stopped = slots.find((slot) => slot.start <= at && at < slot.end);
  const opening = `Red flag at ${clockOf(at)}${stopped ? ` in ${stopped.name}` : ''}.`;
  if (resumesAt !== undefined && resumesAt <= at)
    return nothing(
      timetable,
      `Expected the track open again after ${clockOf(at)} but got ${clockOf(resumesAt)}; nothing moved.`,
    );
  if (!stopped) return { ...blocked(now, at, resumesAt ?? at), opening: [`${opening.slice(0, -1)}, in no session.`] };
  const index = slots.indexOf(stopped);
  if (resumesAt === undefined)
    return {
      next: withDay(now, at === stopped.start ? slots.toSpliced(index, 1) : slots.with(index, { ...stopped, end: at })),
      opening: [opening],
    };
  const goesOn = `${opening} It goes on at ${clockOf(resumesAt)}.`;
  const lost = resumesAt - at;
  if (timetable.slipRule === 'sliding') {
    const after = slide(now, index + 1, at, lost);
    const longer = beforeTheEnd({ ...stopped, end: wallMsOf(stopped.end + lost) }, now.end)[0] ?? {
      ...stopped,
      end: at,
    };
    const kept = after.slice(index + 1).filter((slot) => slot.start >= longer.end);
    return { next: withDay(now, [...after.slice(0, index), longer, ...kept]), opening: [goesOn] };
  }
  if (resumesAt < stopped.end)
    return nothing(
      timetable,
      `${goesOn} ${stopped.name} still ends at ${clockOf(stopped.end)}: ${minutesOf(lost)} of it are lost.`,
    );
  const ended = at === stopped.start ? slots.toSpliced(index, 1) : slots.with(index, { ...stopped, end: at });
  return {
    next: withDay(now, lose(ended, wallMsOf(at + 1), resumesAt)),
    opening: [`Red flag at ${clockOf(at)} in ${stopped.name}; the track opens again at ${clockOf(resumesAt)}.`],
  };
}

/** A stop between sessions delays the next one. */
function blocked(now: DayNow, at: WallMs, until: WallMs): Pick<Step, 'next'> {
  const next = now.slots.find((slot) => slot.start >= at);
  return next && until > next.start ? late(now, next, until - next.start) : { next: now.timetable };
}

function lunchShorter(now: DayNow, at: WallMs, byMs: number): Step {
  const { slots, timetable } = now;
  const gap = gapsOf(slots).find(({ start, end }) => start <= at && at < end);
  if (!gap)
    return nothing(timetable, `Expected a gap between sessions at ${clockOf(at)} but there is none; nothing moved.`);
  const first = slots.findIndex(({ start }) => start >= gap.end);
  const by = Math.min(byMs, gap.end - gap.start);
  const length = gap.end - gap.start - by;
  const all = by < byMs ? ` There was no more of it than ${minutesOf(by)}.` : '';
  const opening = [
    `The pause from ${clockOf(gap.start)} is ${minutesOf(by)} ${by < 0 ? 'longer' : 'shorter'}: ${minutesOf(length)}.${all}`,
  ];
  // An announced earlier start is a new clock for everybody, by either rule.
  if (by >= 0)
    return {
      next: withDay(
        now,
        slots.map((slot, i) => (i < first ? slot : movedBy(slot, -by))),
      ),
      opening,
    };
  if (timetable.slipRule === 'clock-fixed')
    return { next: withDay(now, lose(slots, gap.end, wallMsOf(gap.end - by))), opening };
  return { next: withDay(now, slide(now, first, gap.end, -by)), opening };
}

const movedBy = (slot: TimetableSlot, by: number): TimetableSlot => ({
  ...slot,
  start: wallMsOf(slot.start + by),
  end: wallMsOf(slot.end + by),
});

/** The new slots stand where the person put them; sliding, the others make way behind them, by the clock they are cut. */
function groupAdded(timetable: Timetable, slip: Extract<Slip, { kind: 'group-added' }>, said: Timetable): Step {
  const groups = timetable.groups.some(({ key }) => key === slip.group.key)
    ? timetable.groups
    : [...timetable.groups, slip.group];
  const refused: string[] = [];
  let next: Timetable = { ...timetable, groups };
  for (const slot of [...slip.slots].sort((a, b) => a.start - b.start)) {
    if (slotOf(next, slot.name, dateOf(slot.start)))
      refused.push(`${slot.name} stands already, so the new one of that name was left out.`);
    else next = put(next, slot, said);
  }
  return { next, opening: [`${slip.group.name} joined the timetable.`, ...refused] };
}

function put(timetable: Timetable, slot: TimetableSlot, said: Timetable): Timetable {
  const now = dayOf(timetable, slot.start, said);
  const end = now.timetable.curfews?.some((at) => dateOf(at) === now.day)
    ? now.end
    : wallMsOf(Math.max(now.end, slot.end));
  const first = now.slots.findIndex((other) => other.end > slot.start);
  const met = now.slots[first];
  if (!met || met.start >= slot.end) return withDay(now, [...now.slots, slot]);
  if (timetable.slipRule === 'clock-fixed')
    return withDay(now, [...now.slots.flatMap((other) => besides(other, slot)), slot]);
  // The one under way ends where the new one begins; it and all behind it wait.
  const others = met.start < slot.start ? now.slots.with(first, { ...met, end: slot.start }) : now.slots;
  const from = met.start < slot.start ? first + 1 : first;
  const start = others[from]?.start ?? slot.end;
  const moved = start < slot.end ? slide({ ...now, slots: others, end }, from, start, slot.end - start) : others;
  return withDay(now, [...moved, slot]);
}

/** The longer of what a new slot leaves of another before and behind it; too little is nothing. */
function besides(other: TimetableSlot, slot: TimetableSlot): readonly TimetableSlot[] {
  if (other.end <= slot.start || other.start >= slot.end) return [other];
  const before = { ...other, end: slot.start };
  const behind = { ...other, start: slot.end };
  const longer = before.end - before.start >= behind.end - behind.start ? before : behind;
  return longer.end - longer.start >= LEAST_SESSION_MS ? [longer] : [];
}
