/**
 * Whether a bike comes or goes, from how its size changes over the frames of one pass: what comes nearer grows. From one frame
 * alone nobody says. The slope is the middle one of all pairs' (P. K. Sen, JASA 63, 1968), so that one badly found box turns nothing.
 */
import type { Absent, Box } from '../measure/types.js';
import type { EpochMs } from '../units.js';

export interface SizeThen {
  readonly at: EpochMs;
  /** Of the subject, 0–1, in a picture of this zoom. */
  readonly box: Box;
  /** A box that is cut says nothing of its size. */
  readonly isCut: boolean;
  readonly focalLengthMm?: number;
}

export interface Way {
  readonly kind: 'comes' | 'goes' | 'crosses';
  /** Share by which it grows in a second; less than nothing where it shrinks. */
  readonly growthPerS: number;
  readonly frames: number;
}

/** Slower than this it crosses: a bike at 25 m/s, 30 m away and square to the view, does not change by more while it is in the picture. */
const LEAST_GROWTH_PER_S = 0.2;
const LEAST_FRAMES = 3;

export function tellWay(frames: readonly SizeThen[]): Way | Absent<'too-few-frames' | 'zoomed'> {
  const whole = frames.filter(({ isCut }) => !isCut);
  if (whole.length < LEAST_FRAMES) return { kind: 'absent', reason: 'too-few-frames' };
  // The lens draws the bike larger, too: then its size says nothing.
  if (new Set(whole.map(({ focalLengthMm }) => focalLengthMm)).size > 1) return { kind: 'absent', reason: 'zoomed' };
  const slopes = whole.flatMap((one, index) =>
    whole.slice(index + 1).flatMap((later) => {
      const seconds = (later.at - one.at) / 1000;
      return seconds > 0 ? [Math.log(later.box[3] / one.box[3]) / seconds] : [];
    }),
  );
  if (slopes.length < LEAST_FRAMES) return { kind: 'absent', reason: 'too-few-frames' };
  const growthPerS = slopes.sort((a, b) => a - b)[Math.floor(slopes.length / 2)]!;
  const kind = growthPerS > LEAST_GROWTH_PER_S ? 'comes' : growthPerS < -LEAST_GROWTH_PER_S ? 'goes' : 'crosses';
  return { kind, growthPerS, frames: whole.length };
}
