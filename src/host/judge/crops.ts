/**
 * Full-resolution crops of subjects, cut out of the original once and kept in the user's picture cache: judging again, or looking
 * at 100 %, needs no 24 megapixels decoded. What is judged is always what the cache holds, so that the first time and every later one agree.
 */
import { mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { type PixelRect, type RgbImage, rectOf } from '../../core/measure/images.js';
import type { Box, FileMetadata } from '../../core/measure/types.js';
import { decodeColours, PictureError } from '../measure/decode.js';
import { writeWhole } from '../meeting/writeWhole.js';

export interface Crop {
  readonly picture: RgbImage;
  /** Where it lies in the whole upright picture. */
  readonly at: Box;
}

/** Around the subject, of its own size: what stands in front of it shows above and below. */
export const CROP_MARGIN = 0.15;
/** Coarser would count as blur. */
const QUALITY = 95;

/** @param folder of the cache, made where it is not there */
export async function cropOf(folder: string, path: string, metadata: FileMetadata, box: Box): Promise<Crop> {
  const { widthPx: width, heightPx: height, media, frameId } = metadata;
  if (media !== 'jpeg' || width === undefined || height === undefined) {
    throw new PictureError(
      `Expected a JPEG of known size to judge at full resolution but ${path} is ${media === 'jpeg' ? 'one without a size' : `of kind ${media}`}. Its measurement stands; judge the JPEG beside it.`,
    );
  }
  const rect = rectOf(box, { width, height }, CROP_MARGIN);
  const at: Box = [
    rect.left / width,
    rect.top / height,
    (rect.right - rect.left) / width,
    (rect.bottom - rect.top) / height,
  ];
  const kept = join(folder, `${frameId}-${[rect.left, rect.top, rect.right, rect.bottom].join('-')}.jpg`);
  const there = await readKept(kept, rect);
  if (there) return { picture: there, at };
  await mkdir(folder, { recursive: true });
  await writeWhole(kept, await encoded(await decodeColours(path, metadata, rect)));
  const picture = await readKept(kept, rect);
  if (!picture) throw new Error(`Expected the crop just written to ${kept} to be read back whole; look at that disk.`);
  return { picture, at };
}

const encoded = ({ data, width, height }: RgbImage): Promise<Buffer> =>
  sharp(data, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: QUALITY, chromaSubsampling: '4:4:4' })
    .toBuffer();

/** Null where it is not there, or not whole: then it is cut out anew. */
async function readKept(path: string, { left, top, right, bottom }: PixelRect): Promise<RgbImage | null> {
  const bytes = await readFile(path).catch(() => null);
  if (bytes === null) return null;
  try {
    const { data, info } = await sharp(bytes, { failOn: 'truncated' }).raw().toBuffer({ resolveWithObject: true });
    const { width, height } = info;
    return width === right - left && height === bottom - top && info.channels === 3 ? { data, width, height } : null;
  } catch {
    return null;
  }
}
