/**
 * Full-resolution crops, cut out of the original once and kept in the user's picture cache, a folder for each frame: judging again,
 * or looking at 100 %, needs no 24 megapixels decoded. What is judged is always what the cache holds, so that the first time and
 * every later one agree. All of it can be thrown away.
 */
import { randomBytes } from 'node:crypto';
import { mkdir, open, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import type { FrameId } from '../../core/ids.js';
import { boxOfRect, cropAround } from '../../core/judge/index.js';
import type { PixelRect, RgbImage } from '../../core/measure/images.js';
import type { Box, FileMetadata } from '../../core/measure/types.js';
import { decodeColours, PictureError } from '../measure/decode.js';

export interface Crop {
  readonly picture: RgbImage;
  /** Where it lies in the whole upright picture. */
  readonly at: Box;
}

export interface CropFile {
  readonly path: string;
  readonly metadata: FileMetadata;
  readonly rect: PixelRect;
}

/** Coarser would count as blur. */
const QUALITY = 95;

export const cropPath = (folder: string, frame: FrameId, rect: PixelRect): string =>
  join(folder, frame, `${rectName(rect)}.jpg`);

export const rectName = ({ left, top, right, bottom }: PixelRect): string => [left, top, right, bottom].join('-');

/** Null for anything else: names come from addresses, too. */
export function rectOfName(name: string): PixelRect | null {
  const numbers = /^(\d{1,6})-(\d{1,6})-(\d{1,6})-(\d{1,6})$/.exec(name)?.slice(1).map(Number);
  if (numbers === undefined) return null;
  const [left, top, right, bottom] = numbers as [number, number, number, number];
  return left < right && top < bottom ? { left, top, right, bottom } : null;
}

/** The bike and its margin. @param folder of the cache, made where it is not there */
export async function cropOf(folder: string, path: string, metadata: FileMetadata, box: Box): Promise<Crop> {
  const size = sizeOf(path, metadata);
  const rect = cropAround(box, size);
  return { picture: await pictureOf(folder, { path, metadata, rect }), at: boxOfRect(rect, size) };
}

/** Makes sure that a crop is kept; where. */
export async function keepCrop(folder: string, file: CropFile): Promise<string> {
  const { width, height } = sizeOf(file.path, file.metadata);
  if (file.rect.right > width || file.rect.bottom > height)
    throw new PictureError(
      `Expected a part of a picture of ${width} × ${height} pixels but was asked for ${rectName(file.rect)}. Look at the frame anew.`,
    );
  await pictureOf(folder, file);
  return cropPath(folder, file.metadata.frameId, file.rect);
}

/** Parts of a crop that is in hand already. */
export async function keepParts(
  folder: string,
  frame: FrameId,
  crop: Crop,
  whole: PixelRect,
  parts: readonly PixelRect[],
) {
  for (const rect of parts)
    await write(cropPath(folder, frame, rect), await encoded(cutOut(crop.picture, whole, rect)));
}

function sizeOf(path: string, { media, widthPx, heightPx }: FileMetadata): { width: number; height: number } {
  if (media === 'jpeg' && widthPx !== undefined && heightPx !== undefined) return { width: widthPx, height: heightPx };
  throw new PictureError(
    `Expected a JPEG of known size to judge at full resolution but ${path} is ${media === 'jpeg' ? 'one without a size' : `of kind ${media}`}. Its measurement stands; judge the JPEG beside it.`,
  );
}

/** As it is kept; out of a larger one that is kept where there is one, else out of the original. */
async function pictureOf(folder: string, { path, metadata, rect }: CropFile): Promise<RgbImage> {
  const kept = cropPath(folder, metadata.frameId, rect);
  const there = await readKept(kept, rect);
  if (there) return there;
  const cut = (await outOfLarger(folder, metadata.frameId, rect)) ?? (await decodeColours(path, metadata, rect));
  await write(kept, await encoded(cut));
  const picture = await readKept(kept, rect);
  if (!picture) throw new Error(`Expected the crop just written to ${kept} to be read back whole; look at that disk.`);
  return picture;
}

async function outOfLarger(folder: string, frame: FrameId, rect: PixelRect): Promise<RgbImage | null> {
  const names = await readdir(join(folder, frame)).catch(() => [] as string[]);
  for (const name of names) {
    const larger = rectOfName(name.replace(/\.jpg$/, ''));
    if (larger === null || !isInside(rect, larger)) continue;
    const picture = await readKept(cropPath(folder, frame, larger), larger);
    if (picture) return cutOut(picture, larger, rect);
  }
  return null;
}

const isInside = (a: PixelRect, b: PixelRect): boolean =>
  a.left >= b.left && a.top >= b.top && a.right <= b.right && a.bottom <= b.bottom;

/** Both in pixels of the whole picture. */
function cutOut({ data, width }: RgbImage, whole: PixelRect, rect: PixelRect): RgbImage {
  const [across, down] = [rect.right - rect.left, rect.bottom - rect.top];
  const cut = new Uint8Array(3 * across * down);
  for (let y = 0; y < down; y += 1) {
    const from = 3 * ((rect.top - whole.top + y) * width + rect.left - whole.left);
    cut.set(data.subarray(from, from + 3 * across), 3 * y * across);
  }
  return { data: cut, width: across, height: down };
}

const encoded = ({ data, width, height }: RgbImage): Promise<Buffer> =>
  sharp(data, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: QUALITY, chromaSubsampling: '4:4:4' })
    .toBuffer();

/** Whole under its name or not there; not flushed, for what a power cut tears is cut out anew. */
async function write(path: string, bytes: Buffer): Promise<void> {
  await mkdir(join(path, '..'), { recursive: true });
  const part = `${path}.${randomBytes(4).toString('hex')}.part`;
  try {
    await writeFile(part, bytes);
    await rename(part, path);
  } catch (problem) {
    await rm(part, { force: true });
    throw problem;
  }
}

/** By its last two bytes: a JPEG ends with its own mark, and what a power cut tears does not. */
export async function isWholeCrop(path: string): Promise<boolean> {
  const file = await open(path).catch(() => null);
  if (file === null) return false;
  try {
    const { size } = await file.stat();
    const { buffer } = await file.read(Buffer.alloc(2), 0, 2, Math.max(0, size - 2));
    return buffer.readUInt16BE(0) === END_OF_IMAGE;
  } finally {
    await file.close();
  }
}

const END_OF_IMAGE = 0xffd9;

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
