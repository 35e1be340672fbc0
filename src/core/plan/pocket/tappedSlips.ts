/**
 * What was tapped about starts and red flags, as slips of the timetable that stands. A tap tells when a session went out or will;
 * a slip tells how much later that is than the session stands after all slips before it. So each is reckoned in the order of the
 * times told: a session that an earlier one pushed back already is late by the rest only.
 */
import { millisecondsOf, type WallMs, wallMsOf } from '../../units.js';
import { type SaidOfTimetable, timetableInForce } from '../timetable/index.js';
import type { Slip } from '../timetable/types.js';
import type { Timetable, TimetableSlot } from '../types.js';
import type { Tap } from './types.js';

const MINUTE_MS = 60_000;
const SECOND_MS = 1000;
/** A session that goes out within so much of its time is on time. */
export const ON_TIME_MS = 30_000;

type SlipTap = Extract<Tap, { kind: 'out' | 'late' | 'red-flag' | 'resumed' }>;

/** What a tap says of the timetable; null: nothing but what stands. */
export type TappedSlip =
  | { readonly kind: 'slip'; readonly slip: Slip }
  | { readonly kind: 'no-slip'; readonly sentence: string }
  | null;

/**
 * @param said what stands already, in the log's order; of a tap said before it holds the slip, and `saidAs` tells it
 * @param saidAs what a tap said when it was taken; undefined: it was not
 */
export function slipsOfTaps(
  said: readonly SaidOfTimetable[],
  taps: readonly Tap[],
  saidAs: (tap: Tap) => Slip | undefined = () => undefined,
): ReadonlyMap<Tap, TappedSlip> {
  const all = [...said];
  let runs = timetableInForce(all)?.timetable ?? null;
  const told = new Map<Tap, TappedSlip>();
  for (const tap of standingOf(taps)) {
    const before = saidAs(tap);
    const slip = before === undefined ? slipOf(tap, runs) : ({ kind: 'slip', slip: before } as const);
    told.set(tap, slip);
    if (before !== undefined || slip?.kind !== 'slip') continue;
    all.push({ kind: 'slip', slip: slip.slip });
    runs = timetableInForce(all)?.timetable ?? null;
  }
  return told;
}

/** Neither taken back nor overtaken, in the order of the times they tell. */
const standingOf = (taps: readonly Tap[]): readonly SlipTap[] =>
  taps
    .filter((tap): tap is SlipTap => tap.kind !== 'got' && !tap.isUndone && !isOvertaken(tap, taps))
    .toSorted((a, b) => timeTold(a) - timeTold(b) || a.seq - b.seq);

/** Of several words about one slot's start the last counts, and a red flag whose session went on is said by the going on. */
export function isOvertaken(tap: Tap, taps: readonly Tap[]): boolean {
  const later = taps.filter(({ seq, isUndone }) => seq > tap.seq && !isUndone);
  if (tap.kind === 'red-flag') return later.some((one) => one.kind === 'resumed' && one.stoppedAt === tap.at);
  if (tap.kind !== 'out' && tap.kind !== 'late') return false;
  return later.some((one) => (one.kind === 'out' || one.kind === 'late') && one.slot === tap.slot);
}

function timeTold(tap: SlipTap): WallMs {
  if (tap.kind === 'resumed') return tap.stoppedAt;
  return tap.kind === 'late' ? wallMsOf(tap.plannedAt + tap.byMin * MINUTE_MS) : tap.at;
}

function slipOf(tap: SlipTap, runs: Timetable | null): TappedSlip {
  switch (tap.kind) {
    case 'red-flag':
      return { kind: 'slip', slip: { kind: 'red-flag', at: tap.at } };
    case 'resumed':
      return { kind: 'slip', slip: { kind: 'red-flag', at: tap.stoppedAt, resumesAt: tap.at } };
    case 'out':
    case 'late':
      return startOf(tap, runs);
  }
}

function startOf(tap: Extract<Tap, { kind: 'out' | 'late' }>, runs: Timetable | null): TappedSlip {
  const planned = tap.kind === 'late' ? tap.plannedAt : wallMsOf(tap.at - tap.afterStartS * SECOND_MS);
  const slot = slotNear(runs, tap.slot, planned);
  const from = slot?.start ?? planned;
  const byMs = timeTold(tap) - from;
  if (tap.kind === 'late' ? byMs < ON_TIME_MS : Math.abs(byMs) < ON_TIME_MS) return null;
  const ahead = byMs < 0 ? stillOut(runs, slot, timeTold(tap)) : null;
  if (ahead !== null) return { kind: 'no-slip', sentence: tooEarly(tap.slot, timeTold(tap), ahead) };
  return { kind: 'slip', slip: { kind: 'late', slot: tap.slot, on: dateOf(from), byMs: millisecondsOf(byMs) } };
}

/** Of a meeting of several days each has its `N3`: the one nearest to where the phone had it. */
const slotNear = (runs: Timetable | null, name: string, planned: WallMs): TimetableSlot | null =>
  (runs?.slots ?? [])
    .filter((slot) => slot.name === name)
    .toSorted((a, b) => Math.abs(a.start - planned) - Math.abs(b.start - planned))[0] ?? null;

/** Told to be out while the one ahead still is: more likely a slip of the thumb than two groups on the track. */
const stillOut = (runs: Timetable | null, slot: TimetableSlot | null, at: WallMs): TimetableSlot | null =>
  slot === null
    ? null
    : ((runs?.slots ?? []).find(({ start, end }) => start <= at && at < end && start < slot.start) ?? null);

const tooEarly = (slot: string, at: WallMs, { name, end }: TimetableSlot): string =>
  `${slot} was tapped out at ${clockOf(at)}, but by the timetable ${name} is out until ${clockOf(end)}. Nothing was said for it; if it did go out then, say at the desk when ${name} ended.`;

const clockOf = (wall: WallMs): string => new Date(wall).toISOString().slice(11, 16);
const dateOf = (wall: WallMs): string => new Date(wall).toISOString().slice(0, 10);
