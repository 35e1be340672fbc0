/**
 * A second look where the first found no bike: a rider who is small, dark or leaning far is often seen as a person only,
 * or not at all. The first look stretches the whole picture to a square of 300 px; the second takes a true square about
 * the largest person, or the middle of the picture where nobody was seen, grey where it reaches beyond the picture, so
 * that nothing is distorted and small bikes grow. Where that does not help and something was seen all the same, a third
 * look goes the other way: the whole picture in a larger square, so that a bike that fills the frame shrinks to the size
 * such networks know best, and mirrored, which is a second opinion. And where one bike was found and another only hinted at,
 * or somebody rides none of those found, as of two who overlap, that one is looked at closer. Costs one or two inferences on
 * such frames and nothing on others.
 */
import { assembleSubjects, LEAST_PERSON_SCORE, LEAST_SUBJECT_SCORE } from './assembleSubjects.js';
import { areaOf, clipBox, type Detection, intersectionOf, suppressOverlaps } from './decodeDetections.js';
import type { PixelRect, RgbImage } from './images.js';
import type { Box } from './types.js';

/** Side of the part looked at, in the person's longer sides: a bike is about twice as long as its rider is tall. */
const SIDE = 2.4;
/** The bike is below its rider: the part's middle lies lower than the person's by this share of the person's height. */
const LOWER = 0.15;
/** A bike seen at this score is worth a closer look. With it and the next three, rendered pairs are told apart most often. */
const LEAST_HINT = 0.2;
/** With more than this of the smaller box in common it is the found bike itself, or a part of it. */
const MOST_SHARED = 0.5;
/** With more than this of the smaller box in common with a rider, somebody is that rider seen twice. */
const MOST_SHARED_WITH_RIDER = 0.3;
/** Somebody smaller than this share of the largest bike stands far behind. */
const LEAST_BESIDE = 0.1;
/** Side of the third look's square, in the picture's long edge. */
const LARGER = 1.3;

/** The part worth a second look; null where a bike was found already. */
export function partToLookAgain(
  detections: readonly Detection[],
  image: { readonly width: number; readonly height: number },
): PixelRect | null {
  if (detections.some(({ what, score }) => what === 'motorcycle' && score >= LEAST_SUBJECT_SCORE)) return null;
  const seeds = detections.filter(({ what, score }) => what !== 'car' && score >= LEAST_PERSON_SCORE);
  const seed = seeds.sort((a, b) => areaOf(b.box) * b.score - areaOf(a.box) * a.score)[0];
  return squareAbout(seed?.box ?? middleSquare(image), image);
}

/** The square for a third look, reaching beyond the picture; null where a bike was found, or nothing hints at one. */
export function partToLookAtSmaller(
  detections: readonly Detection[],
  { width, height }: { readonly width: number; readonly height: number },
): PixelRect | null {
  const bikes = detections.filter(({ what }) => what === 'motorcycle');
  if (bikes.some(({ score }) => score >= LEAST_SUBJECT_SCORE)) return null;
  const isHinted =
    bikes.length > 0 || detections.some(({ what, score }) => what !== 'car' && score >= LEAST_PERSON_SCORE);
  if (!isHinted) return null;
  const side = Math.round(LARGER * Math.max(width, height));
  const [left, top] = [Math.round((width - side) / 2), Math.round((height - side) / 2)];
  return { left, top, right: left + side, bottom: top + side };
}

/** The part about a bike that was only hinted at beside one that was found, or about who rides none; null where neither is. */
export function partBesideBike(
  detections: readonly Detection[],
  image: { readonly width: number; readonly height: number },
): PixelRect | null {
  const found = assembleSubjects(detections).filter(({ what }) => what === 'motorcycle');
  if (found.length === 0) return null;
  const isAnother = ({ box }: Detection) => found.every(({ bikeBox }) => sharedOf(bikeBox, box) <= MOST_SHARED);
  const [hinted] = detections
    .filter((bike) => bike.what === 'motorcycle' && bike.score < LEAST_SUBJECT_SCORE && bike.score >= LEAST_HINT)
    .filter(isAnother)
    .sort((a, b) => b.score - a.score);
  if (hinted) return squareOn(hinted.box, image);
  const largest = Math.max(...found.map(({ bikeBox }) => areaOf(bikeBox)));
  const ridesNone = ({ what, score, box }: Detection) =>
    what === 'person' &&
    score >= LEAST_PERSON_SCORE &&
    areaOf(box) >= LEAST_BESIDE * largest &&
    found.every(({ riderBox }) => !riderBox || sharedOf(riderBox, box) <= MOST_SHARED_WITH_RIDER);
  const [alone] = detections.filter(ridesNone).sort((a, b) => areaOf(b.box) * b.score - areaOf(a.box) * a.score);
  return alone ? squareOn(alone.box, image, LOWER) : null;
}

/** What two boxes have in common, as a share of the smaller. */
const sharedOf = (a: Box, b: Box): number => intersectionOf(a, b) / Math.min(areaOf(a), areaOf(b));

/** Left and right changed over. */
export function mirror({ data, width, height }: RgbImage): RgbImage {
  const mirrored = new Uint8Array(data.length);
  for (let y = 0, to = 0; y < height; y += 1) {
    for (let x = width - 1; x >= 0; x -= 1, to += 3) {
      const from = 3 * (y * width + x);
      mirrored[to] = data[from]!;
      mirrored[to + 1] = data[from + 1]!;
      mirrored[to + 2] = data[from + 2]!;
    }
  }
  return { data: mirrored, width, height };
}

/** What was found in a mirrored picture, as it lies in the picture itself. */
export const mirrorBack = (detections: readonly Detection[]): Detection[] =>
  detections.map(({ what, score, box: [left, top, width, height] }) => ({
    what,
    score,
    box: [1 - left - width, top, width, height],
  }));

/** A box whose square about it is as high as the picture (or as wide, where it stands upright). */
function middleSquare({ width, height }: { readonly width: number; readonly height: number }): Box {
  const side = Math.min(width, height) / SIDE;
  return [0.5 - side / width / 2, 0.5 - side / height / 2, side / width, side / height];
}

/** No larger than the picture's long edge. */
const sideFor = (width: number, height: number, image: { readonly width: number; readonly height: number }): number =>
  Math.round(
    Math.min(Math.max(image.width, image.height), SIDE * Math.max(width * image.width, height * image.height)),
  );

/** A square, partly outside the picture where it must be. */
function squareAbout(
  [left, top, width, height]: Box,
  image: { readonly width: number; readonly height: number },
): PixelRect {
  const side = sideFor(width, height, image);
  const place = (centre: number, size: number) =>
    side >= size ? Math.round((size - side) / 2) : Math.round(Math.min(size - side, Math.max(0, centre - side / 2)));
  const x = place((left + width / 2) * image.width, image.width);
  const y = place((top + height * (0.5 + LOWER)) * image.height, image.height);
  return { left: x, top: y, right: x + side, bottom: y + side };
}

/** A square of the same size with the box, or what lies lower by a share of its height, right in its middle: the found bike moves to its edge or out of it. */
function squareOn(
  [left, top, width, height]: Box,
  image: { readonly width: number; readonly height: number },
  lower = 0,
): PixelRect {
  const side = sideFor(width, height, image);
  const x = Math.round((left + width / 2) * image.width - side / 2);
  const y = Math.round((top + height * (0.5 + lower)) * image.height - side / 2);
  return { left: x, top: y, right: x + side, bottom: y + side };
}

const MIDDLE_GREY = 127;

/** The part cut out, middle grey where it lies outside the picture. */
export function cutPart(image: RgbImage, part: PixelRect): RgbImage {
  const width = part.right - part.left;
  const height = part.bottom - part.top;
  const data = new Uint8Array(3 * width * height).fill(MIDDLE_GREY);
  const from = Math.max(0, part.left);
  const until = Math.min(image.width, part.right);
  for (let y = Math.max(0, part.top); y < Math.min(image.height, part.bottom); y += 1) {
    const row = image.data.subarray(3 * (y * image.width + from), 3 * (y * image.width + until));
    data.set(row, 3 * ((y - part.top) * width + from - part.left));
  }
  return { data, width, height };
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
  const placed = second.map(({ what, score, box: [left, top, width, height] }) => {
    const x = part.left / image.width + left * across;
    const y = part.top / image.height + top * down;
    return { what, score, box: clipBox(x, y, x + width * across, y + height * down) };
  });
  return suppressOverlaps([...first, ...placed], mostOverlap);
}
