/** Judges one bike of a decoded full-resolution picture: cuts it out, asks the bike network for its parts, judges. */
import { type Judged, type JudgedSubject, judgeFrame } from '../../core/judge/index.js';
import { type RgbImage, rectOf } from '../../core/measure/images.js';
import type { Box } from '../../core/measure/types.js';
import type { Vision } from '../vision/index.js';

/** Around the subject, of its own size: what stands in front of it shows above and below. */
export const CROP_MARGIN = 0.15;

/** @param picture the crop at full resolution; `at` says where it lies in the whole picture */
export async function judgeCrop(
  vision: Vision,
  picture: RgbImage,
  at: Box,
  subject: JudgedSubject,
  others: readonly JudgedSubject[],
): Promise<Judged> {
  const [left, top, width, height] = subject.box;
  const box: Box = [(left - at[0]) / at[2], (top - at[1]) / at[3], width / at[2], height / at[3]];
  const { parts } = await vision.lookAtBike(picture, box);
  return judgeFrame({ crop: { picture, at, parts }, subject, others });
}

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
  return judgeCrop(vision, { data, width, height }, at, subject, others);
}
