/**
 * The tone curve: lightness to lightness (CIE L* over 100), so that steps along it look alike. Black and white stay where they are;
 * between them the curve always rises.
 */
import type { Tones } from './types.js';

const MIDDLE = 0.5;
/** Where the shaded side of a bike ends and where bright parts begin. */
const SHADE_ENDS = 0.62;
const BRIGHT_BEGINS = 0.5;

export const isPlain = ({ contrast, brightParts, shade }: Tones): boolean =>
  contrast === 1 && brightParts === 0 && shade === 0;

const luminanceOf = (lightness: number): number => {
  const f = (100 * lightness + 16) / 116;
  return f > 6 / 29 ? f ** 3 : (100 * lightness * 27) / 24389;
};
const lightnessOf = (luminance: number): number =>
  luminance > 216 / 24389 ? (116 * Math.cbrt(luminance) - 16) / 100 : (luminance * 24389) / 2700;

/** A bump of height 1 in the middle of 0–1, flat at both ends. */
const bump = (share: number): number => (share <= 0 || share >= 1 ? 0 : (4 * share * (1 - share)) ** 2);

/** Relative luminance 0–1 to relative luminance 0–1. */
export function toned(luminance: number, { contrast, brightParts, shade }: Tones): number {
  const lightness = lightnessOf(luminance);
  const stops =
    shade * bump(lightness / SHADE_ENDS) - brightParts * bump((lightness - BRIGHT_BEGINS) / (1 - BRIGHT_BEGINS));
  return contrasted(Math.min(1, luminance * 2 ** stops), contrast);
}

/** Two power curves that meet at middle grey with the wanted slope. */
function contrasted(luminance: number, contrast: number): number {
  if (contrast === 1) return luminance;
  const lightness = lightnessOf(luminance);
  const out =
    lightness < MIDDLE
      ? MIDDLE * (lightness / MIDDLE) ** contrast
      : 1 - (1 - MIDDLE) * ((1 - lightness) / (1 - MIDDLE)) ** contrast;
  return luminanceOf(out);
}
