/**
 * Which paints are fluorescent: those that send more light back, in the band of their hue, than any object that only reflects
 * can (optimal colours: D. L. MacAdam, "Maximum Visual Efficiency of Colored Materials", JOSA 25, 1935), and no less than
 * EN ISO 20471 asks of fluorescent yellow, orange-red and red. `tools/colours/fitFluorescent.ts` derives the limits.
 */
import type { FluorescentHue } from './types.js';

/**
 * Reflectance of white leathers, plates and paint; a perfect white has 1. Cleaner white makes a paint look less bright
 * beside it, so that too high a value here only leaves more unsaid. Common practice, no source.
 */
const WHITE_REFLECTS = 0.85;

/**
 * Green over red, in linear sRGB under D65, in the chromaticity boxes: of EN ISO 20471, for orange up to the corner of the
 * United States' road signs (23 CFR 655), red and orange-red parted in the middle of the side that they share. Between orange
 * and yellow, and beyond yellow, neither standard says anything.
 */
const HUES: readonly { readonly hue: FluorescentHue; readonly fromGreen: number; readonly toGreen: number }[] = [
  { hue: 'red', fromGreen: 0, toGreen: 0.04 },
  { hue: 'orange', fromGreen: 0.04, toGreen: 0.22 },
  { hue: 'yellow', fromGreen: 0.86, toGreen: 2.45 },
];
/** Blue over the brightest channel: less in all of the boxes. */
const MOST_BLUE = 0.2;

/**
 * Least reflectance in the brightest channel (linear sRGB, perfect white 1): the most that any object colour of those hues
 * reaches for yellow and red, and what the standard asks of orange-red, which is a little more.
 */
const LEAST_IN_BAND: Readonly<Record<FluorescentHue, number>> = { yellow: 1.12, orange: 1.48, red: 1.34 };

/** The hue of a paint from its three ratios to the white beside it, and its ratio in that hue's band; null for other hues. */
export function bandOf([red, green, blue]: readonly [number, number, number]): {
  readonly hue: FluorescentHue;
  readonly ratio: number;
} | null {
  const most = Math.max(red, green);
  if (blue > MOST_BLUE * most) return null;
  const part = green / Math.max(1e-6, red);
  const found = HUES.find(({ fromGreen, toGreen }) => part >= fromGreen && part < toGreen);
  return found ? { hue: found.hue, ratio: found.hue === 'yellow' ? green : red } : null;
}

/** Whether a paint this much brighter than white beside it is fluorescent. */
export const isFluorescent = (hue: FluorescentHue, ratioToWhite: number): boolean =>
  ratioToWhite * WHITE_REFLECTS >= LEAST_IN_BAND[hue];
