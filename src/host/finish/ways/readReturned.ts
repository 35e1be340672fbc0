/** A picture that comes back, read: what it shows, small and grey, and when its metadata says it was taken. */
import { readFile } from 'node:fs/promises';
import { xxhash128 } from 'hash-wasm';
import sharp from 'sharp';
import { RETURNED_EDGE_PX, type SmallGrey } from '../../../core/finish/index.js';
import type { FileId } from '../../../core/ids.js';
import type { FileMetadata } from '../../../core/measure/types.js';
import { readExif } from '../../metadata/exif.js';

export interface ReadJob {
  readonly path: string;
}

export interface ReturnedPicture {
  readonly picture: FileId;
  readonly extension: string;
  readonly bytes: number;
  readonly small: SmallGrey;
  readonly captured: FileMetadata['captured'];
}

/** As it travels from a child: the pixels are text, base64. */
export type ReadAnswer =
  | (Omit<ReturnedPicture, 'small'> & {
      readonly kind: 'read';
      readonly small: Omit<SmallGrey, 'data'> & { readonly data: string };
    })
  | { readonly kind: 'unreadable'; readonly why: string };

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

/** What is no picture that can be read is an answer, too. */
export const readReturned = ({ path }: ReadJob): Promise<ReadAnswer> =>
  read(path).catch((error: Error) => ({ kind: 'unreadable', why: error.message.split('\n')[0]! }));

async function read(path: string): Promise<ReadAnswer> {
  const bytes = await readFile(path);
  const { format, exif } = await sharp(bytes, { limitInputPixels: MOST_PIXELS }).metadata();
  const extension = EXTENSION[format];
  if (extension === undefined) throw new Error(`it is of a kind (${format}) that is not taken back`);
  const small = await smallGrey(bytes, RETURNED_EDGE_PX);
  return {
    kind: 'read',
    picture: (await xxhash128(bytes)) as FileId,
    extension,
    bytes: bytes.length,
    small: { ...small, data: Buffer.from(small.data).toString('base64') },
    // "Exif" and two zeros stand before the structure.
    captured:
      exif === undefined ? { kind: 'absent', reason: 'no-capture-time' } : readExif(exif.subarray(6)).fields.captured,
  };
}

/** What a child answered, with its pixels as they are worked with. */
export const unpacked = ({ small, ...rest }: Extract<ReadAnswer, { kind: 'read' }>): ReturnedPicture => ({
  ...rest,
  small: { ...small, data: new Uint8Array(Buffer.from(small.data, 'base64')) },
});

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
