/** Exposure trouble in three numbers. */
import { LINEAR_OF_BYTE } from '../numeric/colour.js';
import type { RgbImage } from './images.js';

const BURNT_CODE = 254;
/** Light of 1/410 of white: what lies under it shares a handful of code values and comes up as bands and noise (no source). */
const BLOCKED_CODE = 8;

export interface ExposureMeasured {
  /** Mean relative luminance, 0–1. */
  readonly meanLuminance: number;
  /** Share of pixels with all three channels at the top. */
  readonly clippedShare: number;
  /** Share of pixels with all three channels at the bottom, or next to it. */
  readonly blockedShare: number;
}

export function measureExposure({ data }: RgbImage): ExposureMeasured {
  const pixels = data.length / 3;
  let [luminance, clipped, blocked] = [0, 0, 0];
  for (let at = 0; at < data.length; at += 3) {
    const [red, green, blue] = [data[at]!, data[at + 1]!, data[at + 2]!];
    luminance += 0.2126 * LINEAR_OF_BYTE[red]! + 0.7152 * LINEAR_OF_BYTE[green]! + 0.0722 * LINEAR_OF_BYTE[blue]!;
    if (red >= BURNT_CODE && green >= BURNT_CODE && blue >= BURNT_CODE) clipped += 1;
    if (red <= BLOCKED_CODE && green <= BLOCKED_CODE && blue <= BLOCKED_CODE) blocked += 1;
  }
  return { meanLuminance: luminance / pixels, clippedShare: clipped / pixels, blockedShare: blocked / pixels };
}
