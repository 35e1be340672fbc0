/** Stretches in which a session was perhaps held (red flag): a guess, made of a gap in the frames and of running late. */
import type { Session } from '../../core/arrange/types.js';
import { type Milliseconds, millisecondsOf, unitIntervalOf, type WallMs } from '../../core/units.js';
import type { Spoken } from '../types.js';
import type { Known } from './known.js';
import { clockOf, spanWords } from './wallTime.js';

/** A shorter gap is a walk or a quiet minute (common practice, no source). */
const LEAST_GAP_MS = 6 * 60_000;
/** A session that ends as planned was not lengthened by a hold; borders themselves are this sure. */
const LEAST_BEYOND_MS = 2 * 60_000;

export interface Hold {
  readonly from: WallMs;
  readonly to: WallMs;
  /** How much longer than its slot the session was. */
  readonly beyondMs: Milliseconds;
  readonly slotMs: Milliseconds;
}

/** The longest gap between two frames of the session, of whichever body. */
function longestGap(known: Known, session: Session): { readonly from: WallMs; readonly to: WallMs } | null {
  const walls = session.frames.flatMap((frame) => known.exposureById.get(frame)?.wall ?? []).sort((a, b) => a - b);
  const gaps = walls.slice(1).map((to, i) => ({ from: walls[i] as WallMs, to }));
  return gaps.reduce<(typeof gaps)[number] | null>(
    (longest, gap) => (longest === null || gap.to - gap.from > longest.to - longest.from ? gap : longest),
    null,
  );
}

/** Only where the timetable says how long the session should have been: a gap alone may be a walk. */
export function holdOf(known: Known, session: Session): Hold | null {
  const slot = known.state.timetable?.slots.find((one) => one.name === session.slot);
  const gap = longestGap(known, session);
  if (!slot || !gap || gap.to - gap.from < LEAST_GAP_MS) return null;
  const slotMs = millisecondsOf(slot.end - slot.start);
  const beyondMs = millisecondsOf(session.end - session.start - slotMs);
  return beyondMs < LEAST_BEYOND_MS ? null : { ...gap, beyondMs, slotMs };
}

/** As sure as the session ran on: a gap of ten minutes and ten minutes more than planned leave little doubt. */
export function spokenHold({ from, to, beyondMs, slotMs }: Hold): Spoken {
  return {
    voice: 'pencilled',
    text: `held from ${clockOf(from)} to ${clockOf(to)}`,
    confidence: unitIntervalOf(Math.min(0.95, beyondMs / (to - from))),
    reasons: [
      `no frame from any body for ${spanWords(to - from)}`,
      `the session was ${spanWords(beyondMs)} longer than its ${spanWords(slotMs)}`,
    ],
  };
}
