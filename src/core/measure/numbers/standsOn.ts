/** Whether a number stands on the bike: a figure on a board beside the track is no race number. */
import { type PartsSeen, partsOver } from '../bikeSeen.js';
import type { PixelRect } from '../images.js';

/** Half of a number lies on the bike, or it is not the bike's. No source, by reasoning. */
const LEAST_ON_BIKE = 0.5;
/** Points looked at along each side. */
const POINTS = 8;

/** @param parts and rect in pixels of the same picture */
export function standsOn(parts: PartsSeen, rect: PixelRect): boolean {
  const { whole } = partsOver(parts, rect, { width: POINTS, height: POINTS });
  return whole.reduce((sum, share) => sum + share, 0) >= LEAST_ON_BIKE * whole.length;
}
