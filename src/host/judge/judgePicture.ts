/** Judges one bike of a decoded full-resolution picture: cuts it out, asks the bike network for its parts, judges. */
import {
  type BikeJudgement,
  cropAround,
  JUDGE_VERSION,
  type Judged,
  type JudgedSubject,
  type JudgeInput,
  judgeFrame,
  partSquares,
} from '../../core/judge/index.js';
import type { RgbImage } from '../../core/measure/images.js';
import type { Box, FileMetadata } from '../../core/measure/types.js';
import type { Vision } from '../vision/index.js';
import { type Crop, cropOf, keepParts } from './crops.js';
import { type BurstFrame, smallFrames } from './smallFrames.js';

export interface BikeToJudge {
  readonly path: string;
  readonly metadata: FileMetadata;
  readonly subject: JudgedSubject;
  /** The other subjects of the frame. */
  readonly others: readonly JudgedSubject[];
  /** It and its neighbours in time; empty where the burst was slow. */
  readonly burst: readonly BurstFrame[];
  /** Where it goes in the picture; null: nobody knows. */
  readonly heads: 'left' | 'right' | null;
}

/** One subject of a file, from its crop in the cache; crops of its parts are kept there, too. */
export async function judgeFile(
  vision: Vision,
  folder: string,
  { path, metadata, subject, others, burst, heads }: BikeToJudge,
): Promise<BikeJudgement> {
  const crop = await cropOf(folder, path, metadata, subject.box);
  const judged = await judgeCrop(vision, crop, { subject, others, burst: await smallFrames(burst) });
  const size = { width: metadata.widthPx!, height: metadata.heightPx! };
  const parts = partSquares(subject.box, judged, size, heads).map(({ rect }) => rect);
  await keepParts(folder, metadata.frameId, crop, cropAround(subject.box, size), parts);
  const { frameId } = metadata;
  return { kind: 'judged', v: JUDGE_VERSION, frameId, box: subject.box, judged: rounded(judged) };
}

/** More digits than mean anything would make the stored line twice as long. */
const rounded = (judged: Judged): Judged =>
  JSON.parse(
    JSON.stringify(judged, (_, value) => (typeof value === 'number' ? Number(value.toPrecision(6)) : value)),
  ) as Judged;

async function judgeCrop(vision: Vision, { picture, at }: Crop, asked: Omit<JudgeInput, 'crop'>): Promise<Judged> {
  const [left, top, width, height] = asked.subject.box;
  const box: Box = [(left - at[0]) / at[2], (top - at[1]) / at[3], width / at[2], height / at[3]];
  const { parts } = await vision.lookAtBike(picture, box);
  return judgeFrame({ crop: { picture, at, parts }, ...asked });
}

/** One subject of a picture that is decoded already, alone in time. */
export function judgePicture(
  vision: Vision,
  image: RgbImage,
  subject: JudgedSubject,
  others: readonly JudgedSubject[],
): Promise<Judged> {
  const { left, top, right, bottom } = cropAround(subject.box, image);
  const [width, height] = [right - left, bottom - top];
  const data = new Uint8Array(3 * width * height);
  for (let y = 0; y < height; y += 1) {
    const from = 3 * ((top + y) * image.width + left);
    data.set(image.data.subarray(from, from + 3 * width), 3 * y * width);
  }
  const at: Box = [left / image.width, top / image.height, width / image.width, height / image.height];
  return judgeCrop(vision, { picture: { data, width, height }, at }, { subject, others, burst: [] });
}
