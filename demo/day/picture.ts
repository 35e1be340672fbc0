/** One exposure as the JPEG that is kept in `demo/frames/`: pixels only, the card's headers are added when a card is laid out. */
import sharp from 'sharp';
import { type Rendered, render } from '../render/frame.js';
import type { Exposure } from './photograph.js';
import { shotOf } from './shots.js';

/** Chosen so that the whole day stays under 5 MB. */
const QUALITY = 66;
/** The encoder's default: a sixth smaller than the standard's table (0) at 76, at the same mean colour difference. */
const QUANTISATION_TABLE = 3;

export interface Picture {
  readonly jpeg: Buffer;
  readonly boxes: Rendered['boxes'];
}

export async function pictureOf(exposure: Exposure): Promise<Picture> {
  const shot = shotOf(exposure);
  const { pixels, boxes } = render(shot);
  const upright = sharp(Buffer.from(pixels.buffer), { raw: { width: shot.width, height: shot.height, channels: 3 } });
  // A body held upright records a sideways picture and says so in its Exif.
  const asRecorded = exposure.isPortrait ? upright.rotate(90) : upright;
  const jpeg = await asRecorded
    .jpeg({
      quality: QUALITY,
      quantisationTable: QUANTISATION_TABLE,
      chromaSubsampling: '4:2:0',
      trellisQuantisation: true,
      overshootDeringing: true,
      optimiseCoding: true,
    })
    .toBuffer();
  return { jpeg, boxes };
}
