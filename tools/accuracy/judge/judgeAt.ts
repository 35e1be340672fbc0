/** Judges the bike that lies where it is known to, as the program finds it there. */
import type { Judged } from '../../../src/core/judge/index.js';
import { findSubjects, type RgbImage } from '../../../src/core/measure/index.js';
import type { Box } from '../../../src/core/measure/types.js';
import { judgePicture } from '../../../src/host/judge/index.js';
import type { Vision } from '../../../src/host/vision/index.js';

/** Boxes that share less than this are not the same bike. */
const SAME = 0.3;

/** Null where nothing was found there. */
export async function judgeAt(vision: Vision, image: RgbImage, box: Box): Promise<Judged | null> {
  const found = findSubjects(await vision.detect(image));
  const [best] = found
    .map((subject, index) => ({ index, shared: sharedOf(subject.box, box) }))
    .sort((a, b) => b.shared - a.shared);
  if (!best || best.shared < SAME) return null;
  const others = found.filter((_, index) => index !== best.index);
  return judgePicture(vision, image, found[best.index]!, others);
}

export async function largestBike(vision: Vision, image: RgbImage): Promise<Box | null> {
  const bikes = findSubjects(await vision.detect(image)).filter(({ what }) => what === 'motorcycle');
  return bikes.sort((a, b) => b.box[2] * b.box[3] - a.box[2] * a.box[3])[0]?.box ?? null;
}

function sharedOf(a: Box, b: Box): number {
  const width = Math.max(0, Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]));
  const height = Math.max(0, Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]));
  const both = width * height;
  return both / (a[2] * a[3] + b[2] * b[3] - both);
}
