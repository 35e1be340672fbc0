/** The gallery's pictures: the proof itself, a small one, and the crop a rider is known by. All made of the proof. */

import { randomUUID } from 'node:crypto';
import { copyFile, rename } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import type { GalleryPicture } from '../../core/handover/index.js';
import type { Box } from '../../core/measure/types.js';
import { FACE, smallSize } from '../../gallery/index.js';
import { UNFINISHED, writeAtomically } from '../finish/index.js';

export async function copyProof(from: string, to: string): Promise<void> {
  const temporary = join(dirname(to), `${UNFINISHED}${randomUUID()}`);
  await copyFile(from, temporary);
  await rename(temporary, to);
}

/** No metadata but the profile: words are in the proof. */
const jpegOf = (image: Sharp): Promise<Buffer> =>
  image.withIccProfile('srgb').jpeg({ quality: 74, progressive: true }).toBuffer();

export async function makeSmall(proof: string, picture: GalleryPicture, to: string): Promise<void> {
  const { widthPx, heightPx } = smallSize(picture);
  await writeAtomically(to, await jpegOf(sharp(proof).resize(widthPx, heightPx, { fit: 'fill' })));
}

export async function makeFace(proof: string, picture: GalleryPicture, to: string): Promise<void> {
  const region = faceRegion(picture.box, picture.size);
  const image = sharp(proof).extract(region).resize(FACE.widthPx, FACE.heightPx, { fit: 'cover' });
  await writeAtomically(to, await jpegOf(image));
}

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
