/** What a picture is made from, opened: the camera's JPEG or another whole picture, a raw, or the JPEG inside a raw. */
import { open, readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import type { PicturePlan, PixelSize } from '../../../core/finish/index.js';
import { readExif } from '../../metadata/exif.js';
import { type JpegHeader, readJpegHeader } from '../../metadata/jpegHeader.js';
import { type Recognised, recognise } from '../../metadata/mediaKind.js';
import { bufferSource, HEAD_BYTES } from '../../metadata/source.js';
import { missingProfile } from './adobeRgb.js';
import { developRaw } from './developRaw.js';
import { embeddedJpeg } from './embeddedJpeg.js';

/** Above this a file is taken for a decompression bomb: no camera of the trade writes so many pixels. */
const MOST_PIXELS = 160_000_000;
/** Smaller than a camera's smallest thumbnail there is no picture to sell. */
const LEAST_EDGE_PX = 64;

export type MadeFrom = 'jpeg' | 'other-picture' | 'raw' | 'jpeg-in-raw';

export interface OpenedPicture {
  /** Upright when it is read. */
  readonly picture: Sharp;
  readonly size: PixelSize;
  readonly madeFrom: MadeFrom;
  /** Said where it is not made from what was wished. */
  readonly note: string | null;
}

/** Throws with a sentence's part where there is no picture. */
export async function openPicture(path: string, plan: PicturePlan): Promise<OpenedPicture> {
  const head = await readHead(path);
  const { media, layout } = recognise(path, head.subarray(0, 16));
  if (media === 'raw') return openRaw(path, layout, plan);
  if (layout !== 'jpeg') return { ...(await opened(path)), madeFrom: 'other-picture', note: null };
  return { ...(await openJpeg(path, head)), madeFrom: 'jpeg', note: null };
}

type Opened = Pick<OpenedPicture, 'picture' | 'size'>;

/** By its path, which spares reading it into memory, unless it has to be given a profile. */
async function openJpeg(path: string, head: Buffer): Promise<Opened> {
  const header = await readJpegHeader(bufferSource(head));
  const profile = header === null ? null : await missingProfile(head, header);
  const jpeg = profile === null ? path : withProfile(await readFile(path), profile);
  return opened(jpeg, uprightSize(head, header));
}

const withProfile = (jpeg: Buffer, profile: Buffer): Buffer =>
  Buffer.concat([jpeg.subarray(0, 2), profile, jpeg.subarray(2)]);

/** As the header says it; null where it says too little, and the decoder is asked, which takes a while. */
function uprightSize(head: Buffer, header: JpegHeader | null): PixelSize | null {
  if (header === null || header.size === null || header.exifAt === null) return null;
  const { orientation } = readExif(head.subarray(0, header.endsAt)).fields;
  if (orientation === undefined) return null;
  const { widthPx, heightPx } = header.size;
  return orientation < 5 ? header.size : { widthPx: heightPx, heightPx: widthPx };
}

async function opened(file: string | Buffer, known: PixelSize | null = null): Promise<Opened> {
  const picture = sharp(file, { limitInputPixels: MOST_PIXELS, failOn: 'error', autoOrient: true });
  const size = known ?? (await sizeOf(picture));
  if (Math.min(size.widthPx, size.heightPx) < LEAST_EDGE_PX) {
    throw new Error(`it is ${size.widthPx} × ${size.heightPx} pixels; at least ${LEAST_EDGE_PX} a side make a picture`);
  }
  return { picture, size };
}

async function sizeOf(picture: Sharp): Promise<PixelSize> {
  const { autoOrient } = await picture.metadata();
  return { widthPx: autoOrient.width, heightPx: autoOrient.height };
}

async function readHead(path: string): Promise<Buffer> {
  const file = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await file.read(Buffer.allocUnsafe(HEAD_BYTES), 0, HEAD_BYTES, 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await file.close();
  }
}

/** A proof is made from the JPEG that the camera put into the raw where that is large enough; else the raw is developed. */
async function openRaw(path: string, layout: Recognised['layout'], plan: PicturePlan): Promise<OpenedPicture> {
  const bytes = await readFile(path);
  const inside = await embeddedJpeg(bufferSource(bytes), layout);
  const isEnough = plan.longEdgePx !== null && inside !== null && inside.longEdgePx >= plan.longEdgePx;
  if (isEnough && plan.source.kind !== 'raw')
    return { ...(await opened(inside.upright)), madeFrom: 'jpeg-in-raw', note: null };
  try {
    const { data, size } = await developRaw(bytes);
    const raw = { width: size.widthPx, height: size.heightPx, channels: 3 } as const;
    return { picture: sharp(data, { raw }), size, madeFrom: 'raw', note: null };
  } catch (error) {
    if (inside === null) throw error;
    const found = await opened(inside.upright);
    const note = `Expected to develop ${basename(path)}, but ${(error as Error).message}; the JPEG inside it was used, ${found.size.widthPx} × ${found.size.heightPx}.`;
    return { ...found, madeFrom: 'jpeg-in-raw', note };
  }
}
