/**
 * What speaks for a border between two sessions and what it is worth, in nats (natural log-odds). The prices are
 * common practice turned into numbers, no source; `docs/rules/arrange.md` lists them. Relative to "no border here",
 * which costs nothing.
 */
import type { WallMs } from '../../units.js';

/** A picture as the alignment sees it. */
export interface Shot {
  readonly wall: WallMs;
  /** How much a picture speaks for track time: a bike 1, not yet measured a half, no bike hardly. */
  readonly weight: number;
}

export interface Divider {
  readonly wall: WallMs;
}

/** A place between two neighbouring pictures, where sessions may meet. */
export interface Cut {
  /** Pictures before this cut; 0 and `shots.length` are the ends of the day. */
  readonly position: number;
  readonly dividers: readonly Divider[];
  /** Absent at both ends of the day. */
  readonly gapMs: number;
  readonly word: 'here' | 'not-here' | null;
  readonly wordAt: WallMs | null;
}

export const MINUTE_MS = 60_000;

export const PRICES = {
  /** Any one gap is far more often inside a session than between two. */
  borderPrior: 2,
  /** A frame of sky or ground hardly ever happens inside a session. */
  dividerThere: 6,
  /** Forgotten about once in eight times by those who use dividers. */
  dividerForgotten: 2,
  /** A session that no slot explains, where a timetable is known. */
  unlistedSession: 5,
  /** A slot without pictures: somewhere else, or it was dropped. */
  slotWithoutPictures: 0.8,
  furtherSlotWithoutPictures: 0.25,
  /** The same slot again: stopped and resumed. */
  resumed: 3.5,
  /** A stretch outside every session, and each bike in it. */
  outside: 1,
  outsidePerShot: 0.35,
  perMinuteEarly: 1,
  perMinuteOver: 1,
  perMinuteEarlierThanSlip: 0.4,
  shortSession: 4,
  fewShots: 2,
} as const;

/** Log-odds of a gap between sessions against one within, at these lengths in seconds; straight lines between. */
const GAP_LOG_ODDS: readonly (readonly [number, number])[] = [
  [0, -7],
  [20, -5],
  [45, -3],
  [90, -1],
  [150, 0.5],
  [240, 1.5],
  [480, 2.2],
  [1800, 4],
];

export function gapLogOdds(gapMs: number): number {
  const seconds = gapMs / 1000;
  for (let i = 1; i < GAP_LOG_ODDS.length; i++) {
    const [x1, y1] = GAP_LOG_ODDS[i]!;
    const [x0, y0] = GAP_LOG_ODDS[i - 1]!;
    if (seconds <= x1) return y0 + ((y1 - y0) * Math.max(0, seconds - x0)) / (x1 - x0);
  }
  return GAP_LOG_ODDS.at(-1)![1];
}

/** Price of a border at a cut; negative where the evidence speaks for one. */
export function borderCost(cut: Cut, usesDividers: boolean): number {
  if (cut.word === 'here') return 0;
  if (cut.word === 'not-here') return Number.POSITIVE_INFINITY;
  const forgotten = usesDividers ? PRICES.dividerForgotten : 0;
  const divider = cut.dividers.length > 0 ? -PRICES.dividerThere : forgotten;
  return PRICES.borderPrior + divider - gapLogOdds(cut.gapMs);
}
