/** The gallery's pictures: the proof itself, a small one, and the crop a rider is known by. All made of the proof. */

import { randomUUID } from 'node:crypto';
import { copyFile, open, rename } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { GalleryPicture } from '../../core/handover/index.js';
import type { Box } from '../../core/measure/types.js';
import { FACE } from '../../gallery/index.js';
import { UNFINISHED } from '../finish/index.js';
import type { CutJob } from './cutPicture.js';

export async function copyProof(from: string, to: string): Promise<void> {
  const temporary = join(dirname(to), `${UNFINISHED}${randomUUID()}`);
  await copyFile(from, temporary);
  const file = await open(temporary, 'r+');
  await file.sync().finally(() => file.close());
  await rename(temporary, to);
}

export type CutOf = (proof: string, picture: GalleryPicture, cuts: CutJob['cuts']) => CutJob;

export const smallOf: CutOf = (proof, _picture, cuts) => ({ proof, region: null, cuts });

export const faceOf: CutOf = (proof, picture, cuts) => ({
  proof,
  region: faceRegion(picture.box, picture.size),
  cuts,
});

/** Air around the bike, as a share of the box. */
const AIR = 1.4;
/** The window lies higher by this share of its height: boxes miss a helmet more often than a wheel. */
const HIGHER = 0.06;

/** A 4:3 window about the bike, as large as the box wants and the picture allows, never outside it. */
export function faceRegion(box: Box | null, { widthPx, heightPx }: GalleryPicture['size']) {
  const shape = FACE.widthPx / FACE.heightPx;
  const [left, top, width, height] = box ?? [0, 0, 1, 1];
  const wanted = Math.max(width * widthPx, height * heightPx * shape) * (box ? AIR : 1);
  const largest = Math.min(widthPx, heightPx * shape);
  const cropWidth = Math.min(Math.max(wanted, Math.min(FACE.widthPx / 2, largest)), largest);
  const cropHeight = cropWidth / shape;
  const place = (centre: number, size: number, within: number) =>
    Math.floor(Math.min(Math.max(centre - size / 2, 0), within - size));
  return {
    left: place((left + width / 2) * widthPx, cropWidth, widthPx),
    top: place((top + height / 2) * heightPx - cropHeight * (box ? HIGHER : 0), cropHeight, heightPx),
    width: Math.max(1, Math.floor(cropWidth)),
    height: Math.max(1, Math.floor(cropHeight)),
  };
}
