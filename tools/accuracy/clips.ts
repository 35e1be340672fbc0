/** Mask IoU of the main subject on clips with a pixel mask per frame (`clips/<name>/{frames,masks}`). */
import { existsSync, readdirSync } from 'node:fs';
import { basename, extname, join } from 'node:path';
import sharp from 'sharp';
import { chooseMain, type SubjectBoxes } from '../../src/core/measure/assembleSubjects.js';
import { halve, type RgbImage } from '../../src/core/measure/images.js';
import { maskSubject, type SubjectMask } from '../../src/core/measure/maskSubject.js';
import { findSubjects } from '../../src/core/measure/measurePixels.js';
import type { Vision } from '../../src/host/vision/index.js';
import { isFolder, picturesIn } from './labelled.js';
import { decodePicture } from './measurePicture.js';
import type { Part } from './part.js';

interface TrueMask {
  readonly inside: Uint8Array;
  readonly width: number;
  readonly height: number;
}

async function readMask(path: string, width: number, height: number): Promise<TrueMask> {
  const { data, info } = await sharp(path)
    .greyscale()
    .resize(width, height, { fit: 'fill', kernel: 'nearest' })
    .raw()
    .toBuffer({ resolveWithObject: true });
  const inside = Uint8Array.from({ length: width * height }, (_, index) => (data[index * info.channels]! > 10 ? 1 : 0));
  return { inside, width, height };
}

/** Over the whole frame: what the mask claims outside the truth, and the truth outside the mask's cut-out, both count. */
export function intersectionOverUnion(mask: SubjectMask | null, truth: TrueMask): number {
  let [common, either] = [0, 0];
  for (let y = 0; y < truth.height; y += 1) {
    for (let x = 0; x < truth.width; x += 1) {
      const isTrue = truth.inside[y * truth.width + x] === 1;
      const isClaimed = mask !== null && claims(mask, x, y);
      if (isTrue && isClaimed) common += 1;
      if (isTrue || isClaimed) either += 1;
    }
  }
  return either === 0 ? 1 : common / either;
}

function claims({ rect, picture, inside }: SubjectMask, x: number, y: number): boolean {
  if (x < rect.left || x >= rect.right || y < rect.top || y >= rect.bottom) return false;
  const column = Math.floor(((x - rect.left) * picture.width) / (rect.right - rect.left));
  const row = Math.floor(((y - rect.top) * picture.height) / (rect.bottom - rect.top));
  return inside[row * picture.width + column]! > 0.5;
}

interface ClipResult {
  /** One number a frame. */
  readonly ious: readonly number[];
  readonly unseen: number;
  readonly troubles: readonly string[];
}

async function maskOf(vision: Vision, image: RgbImage, subject: SubjectBoxes): Promise<SubjectMask> {
  const seen = subject.what === 'motorcycle' ? (await vision.lookAtBike(image, subject.box)).parts : undefined;
  return maskSubject(image, subject, seen);
}

async function clipIou(vision: Vision, folder: string): Promise<ClipResult> {
  const ious: number[] = [];
  const troubles: string[] = [];
  let unseen = 0;
  for (const name of picturesIn(join(folder, 'frames'))) {
    const frame = await readFrame(folder, name);
    if (typeof frame === 'string') {
      troubles.push(frame);
      continue;
    }
    const subjects = findSubjects(await vision.detect(frame.image));
    const main = subjects[chooseMain(subjects)];
    if (!main) unseen += 1;
    ious.push(intersectionOverUnion(main ? await maskOf(vision, frame.image, main) : null, frame.truth));
  }
  return { ious, unseen, troubles };
}

/** A sentence where there is no such mask, or one of the two cannot be read. */
async function readFrame(folder: string, name: string): Promise<{ image: RgbImage; truth: TrueMask } | string> {
  const mask = `${basename(name, extname(name))}.png`;
  const maskPath = join(folder, 'masks', mask);
  if (!existsSync(maskPath)) return `expected the mask masks/${mask} for frames/${name}, but there is no such file`;
  try {
    // Half the size, as the program masks.
    const image = halve(await decodePicture(join(folder, 'frames', name)));
    return { image, truth: await readMask(maskPath, image.width, image.height) };
  } catch (error) {
    return `expected pictures in frames/${name} and masks/${mask}, but one cannot be read (${(error as Error).message})`;
  }
}

export const clipsAccuracy: Part = async (vision, dataDir) => {
  const folder = join(dataDir, 'clips');
  if (!isFolder(folder)) return null;
  const names = readdirSync(folder).filter((name) => isFolder(join(folder, name, 'frames')));
  const rows: string[] = [];
  const values: number[] = [];
  for (const name of names.sort()) {
    const { ious, unseen, troubles } = await clipIou(vision, join(folder, name));
    if (ious.length > 0) {
      const iou = ious.reduce((sum, one) => sum + one, 0) / ious.length;
      values.push(iou);
      rows.push(`clip ${name}: mean mask IoU ${iou.toFixed(3)} over ${ious.length} frames, no subject in ${unseen}`);
    } else rows.push(`clip ${name}: no frame with its mask could be measured`);
    rows.push(...troubles.map((line) => `  not counted: ${line}`));
  }
  if (values.length === 0) return { rows, figures: {} };
  const note = `lower of ${values.length} clips; a frame without a subject counts 0`;
  return { rows, figures: { 'clips.maskIoU': { value: Math.min(...values), unit: 'IoU', better: 'higher', note } } };
};
