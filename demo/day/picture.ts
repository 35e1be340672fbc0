/**
 * One exposure as it is kept in `demo/frames.br`: pixels only, at half the bytes a JPEG of like quality takes. The camera's JPEG
 * is made of it, with headers, when a card is laid out.
 */
import sharp from 'sharp';
import { type Rendered, render } from '../render/frame.js';
import type { Exposure } from './photograph.js';
import { shotOf } from './shots.js';

/** Chosen so that the whole day stays under 1.4 MB; tuned so, edges and numbers keep more at the same size. */
const KEPT = { quality: 34, effort: 6, tune: 'ssim', chromaSubsampling: '4:2:0' } as const;

export interface Picture {
  readonly avif: Buffer;
  readonly boxes: Rendered['boxes'];
}

export async function pictureOf(exposure: Exposure): Promise<Picture> {
  const shot = shotOf(exposure);
  const { pixels, boxes } = render(shot);
  const upright = sharp(Buffer.from(pixels.buffer), { raw: { width: shot.width, height: shot.height, channels: 3 } });
  // A body held upright records a sideways picture and says so in its Exif.
  const asRecorded = exposure.isPortrait ? upright.rotate(90) : upright;
  return { avif: await asRecorded.avif(KEPT).toBuffer(), boxes };
}
