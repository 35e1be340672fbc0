/**
 * A second look where the first found people and no bike: a rider who is small, dark or leaning far is often seen as a
 * person only, because the detector sees the whole picture at 300 px. The part around the largest person is looked at
 * again by itself. Costs a second inference on such frames and nothing on others.
 */
import { LEAST_SUBJECT_SCORE } from './assembleSubjects.js';
import { areaOf, type Detection, suppressOverlaps } from './decodeDetections.js';
import type { PixelRect } from './images.js';
import type { Box } from './types.js';

/** Side of the part looked at, in the person's longer sides: a bike is about twice as long as its rider is tall. */
const SIDE = 2.4;
/** The bike is below its rider: the part's middle lies lower than the person's by this share of the person's height. */
const LOWER = 0.15;
/** Where the part is nearly the whole picture the second look would see the same again. */
const MOST_OF_PICTURE = 0.8;

/** The part worth a second look, or null. */
export function partToLookAgain(
  detections: readonly Detection[],
  image: { readonly width: number; readonly height: number },
): PixelRect | null {
  if (detections.some(({ what, score }) => what === 'motorcycle' && score >= LEAST_SUBJECT_SCORE)) return null;
  const seeds = detections.filter(({ what }) => what === 'person' || what === 'motorcycle' || what === 'bicycle');
  const seed = seeds.sort((a, b) => areaOf(b.box) * b.score - areaOf(a.box) * a.score)[0];
  if (!seed) return null;
  const part = squareAbout(seed.box, image);
  const share = ((part.right - part.left) * (part.bottom - part.top)) / (image.width * image.height);
  return share > MOST_OF_PICTURE ? null : part;
}

function squareAbout(
  [left, top, width, height]: Box,
  image: { readonly width: number; readonly height: number },
): PixelRect {
  const half = (SIDE / 2) * Math.max(width * image.width, height * image.height);
  const centreX = (left + width / 2) * image.width;
  const centreY = (top + height * (0.5 + LOWER)) * image.height;
  return {
    left: Math.max(0, Math.floor(centreX - half)),
    top: Math.max(0, Math.floor(centreY - half)),
    right: Math.min(image.width, Math.ceil(centreX + half)),
    bottom: Math.min(image.height, Math.ceil(centreY + half)),
  };
}

/** What the second look found joins the first, boxes brought back to the whole picture. */
export function joinLooks(
  first: readonly Detection[],
  second: readonly Detection[],
  part: PixelRect,
  image: { readonly width: number; readonly height: number },
  mostOverlap: number,
): Detection[] {
  const across = (part.right - part.left) / image.width;
  const down = (part.bottom - part.top) / image.height;
  const placed = second.map(({ what, score, box: [left, top, width, height] }) => ({
    what,
    score,
    box: [
      part.left / image.width + left * across,
      part.top / image.height + top * down,
      width * across,
      height * down,
    ] as const,
  }));
  return suppressOverlaps([...first, ...placed], mostOverlap);
}
