/**
 * How finely edges are drawn, by direction: energy of brightness steps one pixel wide over that of steps eight wide, where the
 * wide step stands well above the noise, less the noise's own. What is in the picture and how strongly it is lit cancels, so
 * that two riders at one spot compare, too.
 * Movement draws out the edges across its way and leaves those along it; a missed focus draws out all: the least of four
 * directions against the largest tells the two apart (the directions of a structure tensor; the focus measures that know no
 * direction cannot: J. L. Pech-Pacheco et al., ICPR 2000). Values rank frames of one lens and scale, never against a threshold.
 */
import type { GreyImage } from '../measure/images.js';
import { noiseVariance } from '../measure/measureSharpness.js';
import type { Absent } from '../measure/types.js';
import type { Fineness } from './types.js';

/** Pixels on either side of a step's middle. */
const FAR = 4;
const LEAST_STEP_TO_NOISE = 5;
const LEAST_STEP = 14;
/** Fewer steps in a direction say nothing about it. */
const LEAST_STEPS = 60;
/** More pixels than this are not looked at: rows are left out evenly. */
const MOST_PIXELS = 400_000;
const FLOOR = 1e-3;

const DIRECTIONS = [
  ['alongX', 1, 0],
  ['alongDown', 1, 1],
  ['alongY', 0, 1],
  ['alongUp', 1, -1],
] as const;

/** @param weightOf 0 where a pixel is not the subject; helmet and number count more */
export function measureFineness(
  grey: GreyImage,
  weightOf: (x: number, y: number) => number,
): Fineness | Absent<'too-small' | 'no-structure'> {
  const { data, width, height } = grey;
  if (width < 32 || height < 32) return { kind: 'absent', reason: 'too-small' };
  const noise = noiseVariance(grey);
  const least = Math.max(LEAST_STEP ** 2, LEAST_STEP_TO_NOISE ** 2 * 2 * noise);
  const rowStep = Math.max(1, Math.round((width * height) / MOST_PIXELS));
  const sums = DIRECTIONS.map(() => ({ fine: 0, coarse: 0, steps: 0 }));
  for (let y = FAR + 1; y < height - FAR - 1; y += rowStep)
    for (let x = FAR + 1; x < width - FAR - 1; x += 1) {
      const weight = weightOf(x, y);
      if (weight === 0) continue;
      const at = y * width + x;
      for (let k = 0; k < DIRECTIONS.length; k += 1) {
        const step = DIRECTIONS[k]![1] + DIRECTIONS[k]![2] * width;
        const wide = (data[at + FAR * step]! - data[at - FAR * step]!) ** 2;
        if (wide < least) continue;
        const sum = sums[k]!;
        sum.coarse += weight * (wide - 2 * noise);
        sum.fine += weight * ((data[at + step]! - data[at]!) ** 2 - 2 * noise);
        sum.steps += 1;
      }
    }
  if (sums.some(({ steps }) => steps < LEAST_STEPS)) return { kind: 'absent', reason: 'no-structure' };
  const [alongX, alongDown, alongY, alongUp] = sums.map(({ fine, coarse }) => Math.max(FLOOR, fine / coarse)) as [
    number,
    number,
    number,
    number,
  ];
  const overall = 4 / (1 / alongX + 1 / alongDown + 1 / alongY + 1 / alongUp);
  return { alongX, alongDown, alongY, alongUp, overall };
}

export type BlurSeen =
  | { readonly kind: 'as-sharp' }
  | { readonly kind: 'missed-focus' }
  /** Along which it moved: 0 across, 45 down to the right, 90 up and down, 135 up to the right. */
  | { readonly kind: 'moved'; readonly alongDeg: 0 | 45 | 90 | 135 };

/** Frames of a burst to which nothing was done to the focus scatter about this much on renders: light, size and grain make it. */
export const AS_SHARP = 0.9;
/** Worst direction over the one square to it, each beside the best frame's: on tuning renders at most 0.85 moved, at least 0.92 out of focus. */
const MOVED = 0.89;

/** Against the best frame of the same burst, or spot, lens and shutter. */
export function tellBlurFrom(one: Fineness, best: Fineness): BlurSeen {
  if (one.overall >= AS_SHARP * best.overall) return { kind: 'as-sharp' };
  const lost = DIRECTIONS.map(([name]) => one[name] / best[name]);
  const worst = lost.indexOf(Math.min(...lost));
  const square = lost[(worst + 2) % 4]!;
  if (lost[worst]! >= MOVED * square) return { kind: 'missed-focus' };
  return { kind: 'moved', alongDeg: ([0, 45, 90, 135] as const)[worst]! };
}
