/** Judges one bike of a decoded full-resolution picture: cuts it out, asks the bike network for its parts, judges. */
import { type Judged, type JudgedSubject, judgeFrame } from '../../core/judge/index.js';
import { type RgbImage, rectOf } from '../../core/measure/images.js';
import type { Box, FileMetadata } from '../../core/measure/types.js';
import type { Vision } from '../vision/index.js';
import { CROP_MARGIN, type Crop, cropOf } from './crops.js';

/** One subject of a file, from its crop in the cache. */
export async function judgeFile(
  vision: Vision,
  folder: string,
  file: { readonly path: string; readonly metadata: FileMetadata },
  subject: JudgedSubject,
  others: readonly JudgedSubject[],
): Promise<Judged> {
  return judgeCrop(vision, await cropOf(folder, file.path, file.metadata, subject.box), subject, others);
}

async function judgeCrop(
  vision: Vision,
  { picture, at }: Crop,
  subject: JudgedSubject,
  others: readonly JudgedSubject[],
): Promise<Judged> {
  const [left, top, width, height] = subject.box;
  const box: Box = [(left - at[0]) / at[2], (top - at[1]) / at[3], width / at[2], height / at[3]];
  const { parts } = await vision.lookAtBike(picture, box);
  return judgeFrame({ crop: { picture, at, parts }, subject, others });
}

/** One subject of a picture that is decoded already. */
export function judgePicture(
  vision: Vision,
  image: RgbImage,
  subject: JudgedSubject,
  others: readonly JudgedSubject[],
): Promise<Judged> {
  const { left, top, right, bottom } = rectOf(subject.box, image, CROP_MARGIN);
  const [width, height] = [right - left, bottom - top];
  const data = new Uint8Array(3 * width * height);
  for (let y = 0; y < height; y += 1) {
    const from = 3 * ((top + y) * image.width + left);
    data.set(image.data.subarray(from, from + 3 * width), 3 * y * width);
  }
  const at: Box = [left / image.width, top / image.height, width / image.width, height / image.height];
  return judgeCrop(vision, { picture: { data, width, height }, at }, subject, others);
}
