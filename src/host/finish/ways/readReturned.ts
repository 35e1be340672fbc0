/** A picture that comes back, read: what it shows, small and grey, and when its metadata says it was taken. */
import { readFile } from 'node:fs/promises';
import { xxhash128 } from 'hash-wasm';
import sharp from 'sharp';
import { RETURNED_EDGE_PX, type SmallGrey } from '../../../core/finish/index.js';
import type { FileId } from '../../../core/ids.js';
import type { FileMetadata } from '../../../core/measure/types.js';
import { readExif } from '../../metadata/exif.js';

export interface ReturnedPicture {
  readonly picture: FileId;
  readonly extension: string;
  readonly bytes: Buffer;
  readonly small: SmallGrey;
  readonly captured: FileMetadata['captured'];
}

const EXTENSION: Readonly<Record<string, string>> = {
  jpeg: 'jpg',
  tiff: 'tif',
  png: 'png',
  webp: 'webp',
  heif: 'avif',
};
const MOST_PIXELS = 160_000_000;
/** Fine structure parts two renderings of one frame, and two turned by a degree; what is larger than this does not. */
const BLUR_SHARE = 1 / 64;

/** Throws where it is no picture that can be read. */
export async function readReturned(path: string): Promise<ReturnedPicture> {
  const bytes = await readFile(path);
  const { format, exif } = await sharp(bytes, { limitInputPixels: MOST_PIXELS }).metadata();
  const extension = EXTENSION[format];
  if (extension === undefined) throw new Error(`it is of a kind (${format}) that is not taken back`);
  return {
    picture: (await xxhash128(bytes)) as FileId,
    extension,
    bytes,
    small: await smallGrey(bytes, RETURNED_EDGE_PX),
    // "Exif" and two zeros stand before the structure.
    captured:
      exif === undefined ? { kind: 'absent', reason: 'no-capture-time' } : readExif(exif.subarray(6)).fields.captured,
  };
}

/** @param picture its bytes, or where it lies */
export async function smallGrey(picture: Buffer | string, edgePx: number): Promise<SmallGrey> {
  const { data, info } = await sharp(picture, { limitInputPixels: MOST_PIXELS, failOn: 'error', autoOrient: true })
    .resize(edgePx, edgePx, { fit: 'inside' })
    .flatten({ background: '#ffffff' })
    .greyscale()
    .blur(Math.max(0.3, edgePx * BLUR_SHARE))
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, data: new Uint8Array(data) };
}
