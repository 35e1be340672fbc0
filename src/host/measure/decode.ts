/** Turns a file into an upright sRGB picture of about a thousand pixels, the cheapest way that is good enough. */
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import sharp, { type Sharp } from 'sharp';
import type { GreyImage, PixelRect, RgbImage } from '../../core/measure/images.js';
import type { FileMetadata, FrameMeasured } from '../../core/measure/types.js';

/** Long edge of what is measured. */
export const MEASURED_EDGE_PX = 1024;
/** A preview smaller than this hides too much; older bodies' are 640×480. */
const LEAST_PREVIEW_EDGE_PX = 1000;
/** Above the largest single frame of any body (151 megapixels); more is a mistake or an attack on the memory. */
export const MOST_PIXELS = 160_000_000;
/** Smaller than this nothing can be found in it; a camera's thumbnail is 160 × 120. */
const LEAST_EDGE_PX = 64;

/** A decoder's answer that lies in the file: the frame is unmeasurable, and why is a sentence. */
export class PictureError extends Error {
  override readonly name = 'PictureError';
}

export interface Decoded {
  readonly image: RgbImage;
  readonly source: Extract<FrameMeasured['source'], 'mpf-preview' | 'shrink-on-load'>;
}

type Preview = NonNullable<FileMetadata['preview']>;

/** Throws PictureError where the file is at fault, and an ordinary error where the disk is. */
export const decodeForMeasuring = async (path: string, metadata: FileMetadata): Promise<Decoded> => {
  refuseTooLarge(metadata);
  const preview = usablePreview(metadata);
  if (preview === null && metadata.media !== 'jpeg') throw new PictureError(noPreview(metadata));
  const image = await decoded(path, async () => {
    const input = preview === null ? path : await readPart(path, preview);
    return toRgb(input, metadata.orientation);
  });
  refuseTooSmall(image);
  return { image, source: preview === null ? 'shrink-on-load' : 'mpf-preview' };
};

/** Large enough to measure on; of a raw whatever there is. */
const usablePreview = ({ preview, media }: FileMetadata): Preview | null => {
  if (preview === undefined) return null;
  return media === 'raw' || Math.max(preview.widthPx, preview.heightPx) >= LEAST_PREVIEW_EDGE_PX ? preview : null;
};

/** A region of the upright full picture in grey, as the decoder gives it. `rect` in pixels of the upright picture. */
export const decodeRegion = async (path: string, metadata: FileMetadata, rect: PixelRect): Promise<GreyImage> => {
  refuseTooLarge(metadata);
  const region = { left: rect.left, top: rect.top, width: rect.right - rect.left, height: rect.bottom - rect.top };
  const { data, info } = await decoded(path, () =>
    turned(openPicture(path), metadata.orientation)
      .extract(region)
      .greyscale()
      .raw()
      .toBuffer({ resolveWithObject: true }),
  );
  return { data, width: info.width, height: info.height };
};

/** The same region in its colours, as sRGB. */
export const decodeColours = async (path: string, metadata: FileMetadata, rect: PixelRect): Promise<RgbImage> => {
  refuseTooLarge(metadata);
  const region = { left: rect.left, top: rect.top, width: rect.right - rect.left, height: rect.bottom - rect.top };
  const { data, info } = await decoded(path, () =>
    turned(openPicture(path), metadata.orientation)
      .extract(region)
      .toColourspace('srgb')
      .removeAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true }),
  );
  return { data, width: info.width, height: info.height };
};

const refuseTooLarge = ({ widthPx = 0, heightPx = 0 }: FileMetadata): void => {
  if (widthPx * heightPx <= MOST_PIXELS) return;
  const millions = Math.round((widthPx * heightPx) / 1e6);
  throw new PictureError(
    `Expected a picture of at most ${MOST_PIXELS / 1e6} megapixels but this one says ${widthPx} × ${heightPx} (${millions} megapixels). It is kept and not measured; if a camera made it, tell us which.`,
  );
};

const refuseTooSmall = ({ width, height }: RgbImage): void => {
  if (Math.min(width, height) >= LEAST_EDGE_PX) return;
  throw new PictureError(
    `Expected a picture of at least ${LEAST_EDGE_PX} × ${LEAST_EDGE_PX} pixels but this one has ${width} × ${height}. It is kept and not measured.`,
  );
};

const noPreview = ({ media }: FileMetadata): string =>
  media === 'raw'
    ? 'This raw file holds no JPEG preview, so it is kept and not measured. Let the camera write JPEGs beside it.'
    : 'Expected a JPEG or a raw file with a preview; this file is kept and not measured.';

const readPart = async (path: string, { offset, bytes: length }: Preview): Promise<Buffer> => {
  const file = await open(path, 'r');
  try {
    const bytes = Buffer.allocUnsafe(length);
    const { bytesRead } = await file.read(bytes, 0, length, offset);
    return bytes.subarray(0, bytesRead);
  } finally {
    await file.close();
  }
};

/** Given a path, libvips reads no further than the picture's end and shrinks while it decodes. */
const openPicture = (input: string | Buffer): Sharp =>
  sharp(input, { limitInputPixels: MOST_PIXELS, failOn: 'truncated', sequentialRead: true });

const toRgb = async (input: string | Buffer, orientation: FileMetadata['orientation']): Promise<RgbImage> => {
  const { data, info } = await turned(openPicture(input), orientation)
    .resize(MEASURED_EDGE_PX, MEASURED_EDGE_PX, { fit: 'inside', withoutEnlargement: true })
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
};

/**
 * Puts a picture upright by the main picture's Exif orientation (a preview has none of its own, or the same).
 * Sharp mirrors first and turns then, in whatever order the two are asked for.
 */
const turned = (picture: Sharp, orientation: FileMetadata['orientation'] = 1): Sharp => {
  switch (orientation) {
    case 1:
      return picture;
    case 2:
      return picture.flop();
    case 3:
      return picture.rotate(180);
    case 4:
      return picture.flip();
    case 5:
      return picture.flip().rotate(90);
    case 6:
      return picture.rotate(90);
    case 7:
      return picture.flip().rotate(270);
    case 8:
      return picture.rotate(270);
  }
};

/** A decoder fails alike for a damaged file and a lost disk; reading the file once more tells which it was. */
const decoded = async <Result>(path: string, decode: () => Promise<Result>): Promise<Result> => {
  try {
    return await decode();
  } catch (error) {
    await readThrough(path);
    throw new PictureError(
      `Expected a whole picture but the decoder stopped: ${(error as Error).message.trim()}. Copy the file from the card again; if it is the same there, the frame is damaged. It is kept and not measured.`,
    );
  }
};

const readThrough = async (path: string): Promise<void> => {
  for await (const _ of createReadStream(path, { highWaterMark: 1 << 20 }));
};
