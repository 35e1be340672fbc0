/** Which part of a frame to show so that a bike fills a place of a given shape. Boxes are in upright 0–1 coordinates. */
import type { Box } from '../../core/measure/types.js';

export interface Crop {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Room around the bike, as a share of its size. */
const ROOM = 0.1;
/** A picture is 640 px across: below this share a small place would show its pixels. */
const LEAST_WIDTH = 0.22;

const within = (low: number, size: number): number => Math.min(1 - size, Math.max(0, low));

/**
 * The smallest part of the image with `shape` (width ÷ height as shown) that holds the box and some room around it,
 * kept inside the image. Without a box: the largest part of that shape, centred.
 */
export function cropOf(box: Box | null, aspect: number, shape: number): Crop {
  // In the image's 0–1 coordinates a part of shape s has width ÷ height of s ÷ aspect.
  const ratio = shape / aspect;
  const largest = { width: Math.min(1, ratio), height: Math.min(1, 1 / ratio) };
  if (!box) return { left: (1 - largest.width) / 2, top: (1 - largest.height) / 2, ...largest };
  const [left, top, boxWidth, boxHeight] = box;
  const wanted = Math.max(boxWidth * (1 + 2 * ROOM), boxHeight * (1 + 2 * ROOM) * ratio, LEAST_WIDTH);
  const width = Math.min(wanted, largest.width);
  const height = width / ratio;
  return {
    left: within(left + boxWidth / 2 - width / 2, width),
    top: within(top + boxHeight / 2 - height / 2, height),
    width,
    height,
  };
}
