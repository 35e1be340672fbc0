/**
 * How sharp the ground is before and behind a bike: where a missed focus fell. Rows under the line of the wheels show ground
 * nearer to the camera, rows above it and beside the bike ground further away.
 *
 * Local sharpness is the energy of brightness differences one row apart over that four rows apart, both less the noise's (a ratio of
 * scales, so that light and contrast cancel). Down the picture alone: following a bike smears the ground along its way. What kind of
 * ground lies there cancels only against other frames of the same spot, so a value by itself says nothing.
 */
import { type GreyImage, greyOf, type RgbImage, rectOf } from './images.js';
import { noiseVariance } from './measureSharpness.js';
import type { Box, GroundSharpness } from './types.js';

/** In heights and widths of the bike. */
const BEFORE = { from: 0.05, to: 0.45, beside: 0.2 } as const;
const BEHIND = { from: 0.4, to: 0.05, near: 0.1, far: 0.6 } as const;
const LEAST_WIDTH_PX = 24;
const LEAST_HEIGHT_PX = 20;
const COARSE_ROWS = 4;
/** Four rows apart the ground has to stand out of the noise by this, or nothing can be said of it. */
const LEAST_ABOVE_NOISE = 3;
const LEAST_STEP = 1;
/** Least value, so that ratios stay finite. */
const FLOOR = 0.01;

/** Null where there is too little ground in the picture, or none that has any structure. */
export function measureGround(image: RgbImage, [left, top, width, height]: Box): GroundSharpness | null {
  const wheels = top + height;
  const right = left + width;
  const flank = { top: wheels - BEHIND.from * height, height: (BEHIND.from - BEHIND.to) * height };
  const before = stripOf(image, {
    left: left - BEFORE.beside * width,
    right: right + BEFORE.beside * width,
    top: wheels + BEFORE.from * height,
    height: (BEFORE.to - BEFORE.from) * height,
  });
  const behind = [
    stripOf(image, { ...flank, left: left - BEHIND.far * width, right: left - BEHIND.near * width }),
    stripOf(image, { ...flank, left: right + BEHIND.near * width, right: right + BEHIND.far * width }),
  ].filter((strip) => strip !== null);
  if (before === null || behind.length === 0) return null;
  const noise = Math.min(...[before, ...behind].map(noiseVariance));
  const values = { before: sharpnessDown([before], noise), behind: sharpnessDown(behind, noise) };
  return values.before === null || values.behind === null ? null : { before: values.before, behind: values.behind };
}

interface Strip {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly height: number;
}

function stripOf(image: RgbImage, { left, right, top, height }: Strip): GreyImage | null {
  const [from, to] = [Math.max(0, left), Math.min(1, right)];
  const end = Math.min(1, top + height);
  const isWide = (to - from) * image.width >= LEAST_WIDTH_PX;
  if (top < 0 || !isWide || (end - top) * image.height < LEAST_HEIGHT_PX) return null;
  return greyOf(image, rectOf([from, top, to - from, end - top], image));
}

function sharpnessDown(strips: readonly GreyImage[], noise: number): number | null {
  let [fine, coarse, pixels] = [0, 0, 0];
  for (const { data, width, height } of strips)
    for (let at = 0; at < (height - COARSE_ROWS) * width; at += 1) {
      fine += (data[at + width]! - data[at]!) ** 2;
      coarse += (data[at + COARSE_ROWS * width]! - data[at]!) ** 2;
      pixels += 1;
    }
  const both = 2 * noise * pixels;
  if (coarse - both < pixels * (LEAST_ABOVE_NOISE * 2 * noise + LEAST_STEP)) return null;
  return Math.max(FLOOR, (fine - both) / (coarse - both));
}
