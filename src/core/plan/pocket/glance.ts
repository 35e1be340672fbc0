/** One glance at the phone: what is on now, where to stand next, how long it is until then. */
import { type WallMs, wallMsOf } from '../../units.js';
import { type SaidOfTimetable, timetableInForce } from '../timetable/index.js';
import { slipsOfTaps } from './tappedSlips.js';
import type { PocketDay, PocketSlot, PocketStay, Tap } from './types.js';

const MINUTE_MS = 60_000;

export interface Glance {
  /** Slots as they stand after what was tapped. */
  readonly slots: readonly PocketSlot[];
  readonly isOut: PocketSlot | null;
  /** A red flag stands: since when, in the day's minutes. */
  readonly stoppedAtMin: number | null;
  readonly next: PocketSlot | null;
  /** Where one stands now or goes next; null: the plan is over. */
  readonly stay: PocketStay | null;
  /** `there`: the stay runs; `go`: time to be on the way; `later`: its way need not begin yet. */
  readonly way: 'there' | 'go' | 'later';
  readonly after: PocketStay | null;
  /** What the large figure counts down to. */
  readonly countdown:
    | { readonly to: 'out' | 'end'; readonly slot: PocketSlot; readonly ms: number }
    /** Under a red flag of a sliding day nobody knows: what is lost is ridden later. */
    | { readonly to: 'going-on'; readonly slot: PocketSlot }
    | { readonly to: 'nothing' };
}

/**
 * A session that is ridden later may be stopped past its end; so long after it a red flag that nobody ended no longer stands (own
 * convention).
 */
const FLAG_OUTLIVES_MIN = 30;

/** @param nowMs milliseconds since the day's midnight at the circuit, by the phone's clock */
export function glanceAt(day: PocketDay, taps: readonly Tap[], nowMs: number): Glance {
  const nowMin = nowMs / MINUTE_MS;
  const tapped = slotsAsTapped(day, taps);
  const stopped = stoppedAt(day, taps, tapped, nowMin);
  const slots = stopped === null ? tapped : heldBack(day, tapped, stopped.slot, nowMin);
  const isOut = stopped?.slot ?? slots.find(({ fromMin, toMin }) => fromMin <= nowMin && nowMin < toMin) ?? null;
  const next = slots.find(({ fromMin, name }) => fromMin > nowMin && name !== isOut?.name) ?? null;
  const stays = staysAsTapped(day, slots);
  const place = stays.findIndex(({ toMin }) => toMin > nowMin);
  const stay = stays[place] ?? null;
  return {
    slots,
    isOut,
    stoppedAtMin: stopped?.atMin ?? null,
    next,
    stay,
    way: wayOf(stay, nowMin),
    after: stays[place + 1] ?? null,
    countdown:
      stopped !== null && day.slipRule === 'sliding' && stay !== null
        ? { to: 'going-on', slot: stopped.slot }
        : countdownOf(stay, slots, nowMs),
  };
}

function wayOf(stay: PocketStay | null, nowMin: number): Glance['way'] {
  if (stay === null || nowMin >= stay.fromMin) return 'there';
  return stay.wayMin > 0 && nowMin >= stay.fromMin - stay.wayMin ? 'go' : 'later';
}

/** To the going out of the stay's next session, or to the end of the one it holds. */
function countdownOf(stay: PocketStay | null, slots: readonly PocketSlot[], nowMs: number): Glance['countdown'] {
  if (stay === null) return { to: 'nothing' };
  const nowMin = nowMs / MINUTE_MS;
  const slot = slots.find(({ fromMin, toMin }) => toMin > nowMin && fromMin < stay.toMin && toMin > stay.fromMin);
  if (slot === undefined) return { to: 'nothing' };
  const isOut = slot.fromMin <= nowMin;
  return { to: isOut ? 'end' : 'out', slot, ms: (isOut ? slot.toMin : slot.fromMin) * MINUTE_MS - nowMs };
}

/** By the same rules as the laptop's, from what the day and the taps know. Kept while the taps are the same: it is asked each second. */
function slotsAsTapped(day: PocketDay, taps: readonly Tap[]): readonly PocketSlot[] {
  const kept = lastTapped.get(day);
  if (kept?.taps === taps) return kept.slots;
  const slots = taps.length === 0 ? day.slots : slotsAfter(day, taps);
  lastTapped.set(day, { taps, slots });
  return slots;
}

const lastTapped = new WeakMap<PocketDay, { readonly taps: readonly Tap[]; readonly slots: readonly PocketSlot[] }>();

function slotsAfter(day: PocketDay, taps: readonly Tap[]): readonly PocketSlot[] {
  const wallOf = (minute: number) => wallMsOf(day.day + minute * MINUTE_MS);
  const planned: SaidOfTimetable = {
    kind: 'timetable',
    timetable: {
      groups: day.groups,
      slipRule: day.slipRule,
      slots: day.slots.map(({ fromMin, toMin, ...slot }) => ({ ...slot, start: wallOf(fromMin), end: wallOf(toMin) })),
    },
  };
  // A flag that stands ends nothing yet: the session may go on.
  const standing = standingFlag(taps);
  const told = [
    ...slipsOfTaps(
      [planned],
      taps.filter((tap) => tap !== standing),
    ).values(),
  ].filter((one) => one?.kind === 'slip');
  const runs = timetableInForce([planned, ...told])?.timetable.slots ?? [];
  const minuteOf = (wall: WallMs) => (wall - day.day) / MINUTE_MS;
  return runs.map(({ name, group, start, end, isSighting = false }) => ({
    name,
    group,
    fromMin: minuteOf(start),
    toMin: minuteOf(end),
    isSighting,
  }));
}

/** A stay follows the sessions it was made for: it begins with the first of them and ends with the last. */
function staysAsTapped(day: PocketDay, slots: readonly PocketSlot[]): readonly PocketStay[] {
  if (day.slipRule !== 'sliding' || slots === day.slots) return day.stays;
  const now = new Map(slots.map((slot) => [slot.name, slot]));
  return day.stays.map((stay) => {
    const held = day.slots.filter(
      ({ name, fromMin, toMin }) => toMin > stay.fromMin && fromMin < stay.toMin && now.has(name),
    );
    const [first, last] = [held[0], held.at(-1)];
    if (first === undefined || last === undefined) return stay;
    const fromMin = stay.fromMin + now.get(first.name)!.fromMin - first.fromMin;
    return { ...stay, fromMin, toMin: Math.max(fromMin, stay.toMin + now.get(last.name)!.toMin - last.toMin) };
  });
}

/** The last red flag, where neither the session was said to go on nor another to be out. */
export function standingFlag(taps: readonly Tap[]): Tap | null {
  const said = taps.filter(({ isUndone }) => !isUndone);
  const flag = said.findLast(({ kind }) => kind === 'red-flag');
  if (flag === undefined) return null;
  const isOver = said.some(
    (tap) => (tap.kind === 'resumed' && tap.stoppedAt === flag.at) || (tap.kind === 'out' && tap.seq > flag.seq),
  );
  return isOver ? null : flag;
}

interface Stopped {
  readonly slot: PocketSlot;
  readonly atMin: number;
}

function stoppedAt(
  { day, slipRule }: PocketDay,
  taps: readonly Tap[],
  slots: readonly PocketSlot[],
  nowMin: number,
): Stopped | null {
  const flag = standingFlag(taps);
  if (flag === null) return null;
  const atMin = (flag.at - day) / MINUTE_MS;
  const slot = slots.find(({ fromMin, toMin }) => fromMin <= atMin && atMin < toMin);
  if (slot === undefined) return null;
  return nowMin < slot.toMin + (slipRule === 'sliding' ? FLAG_OUTLIVES_MIN : 0) ? { slot, atMin } : null;
}

/** Nobody goes out under red: what should have gone out meanwhile waits, and on a sliding day all behind it. */
function heldBack(
  { slipRule }: PocketDay,
  slots: readonly PocketSlot[],
  stopped: PocketSlot,
  nowMin: number,
): readonly PocketSlot[] {
  const place = slots.indexOf(stopped);
  const waits = Math.max(0, nowMin - (slots[place + 1]?.fromMin ?? nowMin));
  if (slipRule !== 'sliding' || waits === 0) return slots;
  return slots.map((slot, index) =>
    index <= place ? slot : { ...slot, fromMin: slot.fromMin + waits, toMin: slot.toMin + waits },
  );
}
