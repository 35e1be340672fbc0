/** What the three large buttons mean at a moment. */
import type { Glance, PocketSlot, Tap } from '../core/plan/pocket/index.js';
import { type WallMs, wallMsOf } from '../core/units.js';
import type { NewTap } from './store.js';

/** A button that was just pressed speaks of the next session already: a thumb that hits it twice means it once. */
const TWICE_MS = 3000;

export const isPressedTwice = (taps: readonly Tap[], nowMs: number): boolean => {
  const last = taps.at(-1);
  return last?.kind === 'out' && !last.isUndone && nowMs - last.at < TWICE_MS;
};

/** Each further "late" puts the start off by so much. */
const LATE_STEP_MIN = 5;
const MINUTE_MS = 60_000;

/** The session whose start is spoken of: the one nearest to its start, past or to come, that was not said to be out. */
export function startingSlot({ isOut, next }: Glance, taps: readonly Tap[], nowMin: number): PocketSlot | null {
  const isSaid = taps.some((tap) => tap.kind === 'out' && !tap.isUndone && tap.slot === isOut?.name);
  if (isOut === null || isSaid) return next;
  if (next === null) return isOut;
  return nowMin - isOut.fromMin <= next.fromMin - nowMin ? isOut : next;
}

/** @param planned the slot as the day says it, before anything was tapped */
export const outTap = (planned: PocketSlot, nowMin: number): NewTap => ({
  kind: 'out',
  slot: planned.name,
  afterStartS: Math.round((nowMin - planned.fromMin) * 60),
});

/** @param day its midnight at the circuit */
export function lateTap(planned: PocketSlot, taps: readonly Tap[], nowMin: number, day: WallMs): NewTap {
  const before = taps.findLast((tap) => tap.kind === 'late' && !tap.isUndone && tap.slot === planned.name);
  const said = before?.kind === 'late' ? before.byMin : 0;
  return {
    kind: 'late',
    slot: planned.name,
    byMin: Math.max(said + LATE_STEP_MIN, Math.ceil(nowMin - planned.fromMin)),
    plannedAt: wallMsOf(day + planned.fromMin * MINUTE_MS),
  };
}
