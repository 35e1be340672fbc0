/** Crops moved and sized by hand: they keep their shape and stay in the picture. */
import type { Ratio } from '../../log/finishSaid.js';
import type { Box } from '../../measure/types.js';
import { WIDTH_OVER_HEIGHT } from './shapes.js';

/** Of the picture's width or height a crop is at least this much: less would show a wheel. */
const LEAST = 0.1;
/** A box may touch the crop's edge: reckoning alone does not cut it. */
const NEARLY = 1e-6;

/** By shares of the picture's width and height, as far as there is picture. */
export const cropMoved = ([left, top, width, height]: Box, right: number, down: number): Box => [
  Math.min(1 - width, Math.max(0, left + right)),
  Math.min(1 - height, Math.max(0, top + down)),
  width,
  height,
];

/** About its middle where there is room; never beyond the picture and never smaller than bikes are. */
export function cropSized(box: Box, factor: number): Box {
  const [left, top, width, height] = box;
  const most = Math.min(1 / width, 1 / height);
  const least = Math.min(1, LEAST / Math.min(width, height));
  const by = Math.min(most, Math.max(least, factor));
  const [wide, high] = [Math.min(1, width * by), Math.min(1, height * by)];
  return cropMoved([left, top, wide, high], (width - wide) / 2, (height - high) / 2);
}

/** What to begin with where the rule found none: as much of the picture as the shape holds. */
export function largestCrop(ratio: Ratio, aspect: number): Box {
  const wide = Math.min(1, WIDTH_OVER_HEIGHT[ratio] / aspect);
  const high = Math.min(1, aspect / WIDTH_OVER_HEIGHT[ratio]);
  return [(1 - wide) / 2, (1 - high) / 2, wide, high];
}

export const cutsInto = ([left, top, width, height]: Box, subjects: readonly Box[]): boolean =>
  subjects.some(
    ([x, y, w, h]) =>
      x < left - NEARLY || y < top - NEARLY || x + w > left + width + NEARLY || y + h > top + height + NEARLY,
  );
