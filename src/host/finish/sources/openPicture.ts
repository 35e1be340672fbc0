/** What a picture is made from, opened: the camera's JPEG or another whole picture, a raw, or the JPEG inside a raw. */
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import sharp, { type Sharp } from 'sharp';
import type { PicturePlan, PixelSize } from '../../../core/finish/index.js';
import { recognise } from '../../metadata/mediaKind.js';
import { bufferSource } from '../../metadata/source.js';
import { withAdobeRgb } from './adobeRgb.js';
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
  const bytes = await readFile(path);
  const { media, layout } = recognise(path, bytes.subarray(0, 16));
  if (media === 'raw') return openRaw(path, bytes, layout, plan);
  const isJpeg = layout === 'jpeg';
  const whole = isJpeg ? await withAdobeRgb(bytes) : bytes;
  return { ...(await opened(whole)), madeFrom: isJpeg ? 'jpeg' : 'other-picture', note: null };
}

async function opened(bytes: Buffer): Promise<Pick<OpenedPicture, 'picture' | 'size'>> {
  const picture = sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'error', autoOrient: true });
  const { autoOrient } = await picture.metadata();
  const size = { widthPx: autoOrient.width, heightPx: autoOrient.height };
  if (Math.min(size.widthPx, size.heightPx) < LEAST_EDGE_PX) {
    throw new Error(`it is ${size.widthPx} × ${size.heightPx} pixels; at least ${LEAST_EDGE_PX} a side make a picture`);
  }
  return { picture, size };
}

/** A proof is made from the JPEG that the camera put into the raw where that is large enough; else the raw is developed. */
async function openRaw(
  path: string,
  bytes: Buffer,
  layout: ReturnType<typeof recognise>['layout'],
  plan: PicturePlan,
): Promise<OpenedPicture> {
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
