/** Which spots gave keepers for the minutes spent there: rules RE4, RE5. */
import type { Arrangement, Session } from '../../arrange/types.js';
import type { Keepers } from '../../choose/types.js';
import type { FrameId, SpotId } from '../../ids.js';
import type { Stand, TimetableSlot } from '../../plan/types.js';
import type { Try } from './tries.js';
import type { SpotYield } from './types.js';

const MINUTE_MS = 60_000;
const Z_95 = 1.959964;

interface Stood {
  readonly spot: SpotId;
  readonly session: number;
  readonly minutes: number;
  readonly from: 'said' | 'frames';
}

export function spotYields(
  arrangement: Arrangement,
  stands: readonly Stand[],
  tries: readonly Try[],
  keepers: Keepers,
  slots: readonly TimetableSlot[],
): readonly SpotYield[] {
  const stood = stoodMinutes(arrangement, stands, slots);
  const kept = keptBySpot(arrangement, keepers);
  return [...new Set(stood.map(({ spot }) => spot))]
    .map((spot): SpotYield => {
      const here = stood.filter((one) => one.spot === spot);
      const hits = tries.filter(({ is, of }) => is === 'hit' && of.spot === spot);
      const minutes = here.reduce((sum, one) => sum + one.minutes, 0);
      const ways = new Set(here.map(({ from }) => from));
      const count = kept.get(spot) ?? 0;
      return {
        kind: 'measurement',
        spot,
        sessions: new Set(here.map(({ session }) => session)).size,
        minutes,
        minutesFrom: ways.size > 1 ? 'both' : [...ways][0]!,
        riders: new Set(hits.map(({ pass }) => pass.rider)).size,
        hits: hits.length,
        keepers: count,
        keepersAMinute: minutes < 1 ? null : rateOf(count, minutes),
      };
    })
    .sort((a, b) => (b.keepersAMinute?.rate ?? -1) - (a.keepersAMinute?.rate ?? -1) || (a.spot < b.spot ? -1 : 1));
}

/**
 * Score interval of a rate (the Poisson counterpart of Wilson's: k events in T, |k − λT| ≤ z √(λT), solved for λ). Keepers of one rider
 * shut others out, so the true spread is rather smaller.
 */
function rateOf(events: number, minutes: number): NonNullable<SpotYield['keepersAMinute']> {
  const half = Z_95 * Math.sqrt(events + Z_95 ** 2 / 4);
  const middle = events + Z_95 ** 2 / 2;
  return { rate: events / minutes, from: Math.max(0, middle - half) / minutes, to: (middle + half) / minutes };
}

/** A person's word of a session counts before what frames show of it. */
function stoodMinutes(
  arrangement: Arrangement,
  stands: readonly Stand[],
  slots: readonly TimetableSlot[],
): readonly Stood[] {
  return arrangement.sessions.flatMap((session, i, all): readonly Stood[] => {
    const said = saidIn(session, endOf(session, all[i + 1], slots), stands);
    const shown = shownIn(arrangement, session).filter(({ spot }) => !said.some((one) => one.spot === spot));
    return [...said, ...shown];
  });
}

/** A session is known by its frames; whoever stays to its flag takes none for the last laps, so it lasts as long as its slot, if that is longer. */
function endOf(session: Session, next: Session | undefined, slots: readonly TimetableSlot[]): number {
  const slot = slots.find(({ name }) => name === session.slot);
  if (slot === undefined) return session.end;
  const flag = Math.min(session.start + (slot.end - slot.start), next?.start ?? Number.POSITIVE_INFINITY);
  return Math.max(session.end, flag);
}

function saidIn(session: Session, end: number, stands: readonly Stand[]): readonly Stood[] {
  const spans = stands
    .map(({ spot, from, to }) => ({ spot, from: Math.max(from, session.start), to: Math.min(to, end) }))
    .filter(({ from, to }) => to - from >= MINUTE_MS);
  return [...new Set(spans.map(({ spot }) => spot))].map((spot) => {
    const own = spans.filter((span) => span.spot === spot).sort((a, b) => a.from - b.from);
    let [minutes, until] = [0, Number.NEGATIVE_INFINITY];
    // Two bodies at one spot are one person's time.
    for (const { from, to } of own) {
      minutes += Math.max(0, to - Math.max(from, until)) / MINUTE_MS;
      until = Math.max(until, to);
    }
    return { spot, session: session.index, minutes, from: 'said' as const };
  });
}

function shownIn(arrangement: Arrangement, session: Session): readonly Stood[] {
  const spans = new Map<SpotId, { from: number; to: number }>();
  for (const { spot, wall, session: own } of arrangement.exposures) {
    if (own !== session.index || spot === null || wall === null) continue;
    const span = spans.get(spot) ?? { from: wall, to: wall };
    spans.set(spot, { from: Math.min(span.from, wall), to: Math.max(span.to, wall) });
  }
  return [...spans].map(([spot, { from, to }]) => ({
    spot,
    session: session.index,
    minutes: (to - from) / MINUTE_MS,
    from: 'frames' as const,
  }));
}

function keptBySpot(arrangement: Arrangement, keepers: Keepers): ReadonlyMap<SpotId, number> {
  const spotOf = new Map<FrameId, SpotId | null>(arrangement.exposures.map(({ frameId, spot }) => [frameId, spot]));
  const counts = new Map<SpotId, number>();
  for (const own of keepers.byRider.values())
    for (const { bike } of own) {
      const spot = spotOf.get(bike.frameId) ?? null;
      if (spot !== null) counts.set(spot, (counts.get(spot) ?? 0) + 1);
    }
  return counts;
}
