/** Exposure trouble in two numbers. */
import { LINEAR_OF_BYTE } from '../numeric/colour.js';
import type { RgbImage } from './images.js';

const BURNT_CODE = 254;
const DROWNED_CODE = 1;

export interface ExposureMeasured {
  /** Mean relative luminance, 0–1. */
  readonly meanLuminance: number;
  /** Share of pixels with all three channels at the top, or all at the bottom. */
  readonly clippedShare: number;
}

export function measureExposure({ data }: RgbImage): ExposureMeasured {
  const pixels = data.length / 3;
  let luminance = 0;
  let clipped = 0;
  for (let at = 0; at < data.length; at += 3) {
    const [red, green, blue] = [data[at]!, data[at + 1]!, data[at + 2]!];
    luminance += 0.2126 * LINEAR_OF_BYTE[red]! + 0.7152 * LINEAR_OF_BYTE[green]! + 0.0722 * LINEAR_OF_BYTE[blue]!;
    const isBurnt = red >= BURNT_CODE && green >= BURNT_CODE && blue >= BURNT_CODE;
    if (isBurnt || (red <= DROWNED_CODE && green <= DROWNED_CODE && blue <= DROWNED_CODE)) clipped += 1;
  }
  return { meanLuminance: luminance / pixels, clippedShare: clipped / pixels };
}
