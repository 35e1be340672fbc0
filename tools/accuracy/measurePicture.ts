/** Decodes a picture as the program does and measures it; what cannot be decoded is named. */
import { readFile } from 'node:fs/promises';
import sharp from 'sharp';
import type { FrameId } from '../../src/core/ids.js';
import type { RgbImage } from '../../src/core/measure/images.js';
import type { FrameMeasured } from '../../src/core/measure/types.js';
import { measureImage, type Vision } from '../../src/host/vision/index.js';

const LONG_EDGE = 1024;

/** Upright sRGB, long edge at most 1,024 px, never enlarged. */
export async function decodePicture(from: string | Buffer): Promise<RgbImage> {
  const { data, info } = await sharp(typeof from === 'string' ? await readFile(from) : from, { failOn: 'none' })
    .rotate()
    .resize(LONG_EDGE, LONG_EDGE, { fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true });
  return {
    data: info.channels === 3 ? data : threeChannels(data, info.channels),
    width: info.width,
    height: info.height,
  };
}

/** Grey pictures come with one channel. */
function threeChannels(data: Uint8Array, channels: number): Uint8Array {
  const pixels = data.length / channels;
  const result = new Uint8Array(3 * pixels);
  for (let index = 0; index < pixels; index += 1) {
    for (let channel = 0; channel < 3; channel += 1) {
      result[3 * index + channel] = data[index * channels + (channels >= 3 ? channel : 0)]!;
    }
  }
  return result;
}

/** A picture that cannot be decoded says why; whatever goes wrong in measuring is the program's fault and throws. */
export async function measurePicture(
  vision: Vision,
  from: string | Buffer,
): Promise<FrameMeasured | { readonly kind: 'unreadable'; readonly reason: string }> {
  let image: RgbImage;
  try {
    image = await decodePicture(from);
  } catch (error) {
    return { kind: 'unreadable', reason: error instanceof Error ? error.message : String(error) };
  }
  return measureImage(vision, image, { frameId: '0'.repeat(32) as FrameId, source: 'shrink-on-load', tier: 'preview' });
}
