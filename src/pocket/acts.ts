/** What the three large buttons mean at a moment. */
import type { Glance, PocketSlot, Tap } from '../core/plan/pocket/index.js';
import type { NewTap } from './store.js';

/** Each further "late" puts the start off by so much. */
const LATE_STEP_MIN = 5;

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

export function lateTap(planned: PocketSlot, taps: readonly Tap[], nowMin: number): NewTap {
  const before = taps.findLast((tap) => tap.kind === 'late' && !tap.isUndone && tap.slot === planned.name);
  const said = before?.kind === 'late' ? before.byMin : 0;
  return {
    kind: 'late',
    slot: planned.name,
    byMin: Math.max(said + LATE_STEP_MIN, Math.ceil(nowMin - planned.fromMin)),
  };
}

/** The standing red flag, or null. */
export const standingFlag = (taps: readonly Tap[]): Tap | null =>
  taps.findLast(
    (tap) =>
      tap.kind === 'red-flag' &&
      !tap.isUndone &&
      !taps.some((one) => one.kind === 'resumed' && !one.isUndone && one.stoppedAt === tap.at),
  ) ?? null;
