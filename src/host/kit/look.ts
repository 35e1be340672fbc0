/** A look at the kit's own frames: dust, and the piece of a frame that shows a spot of it. */
import sharp from 'sharp';
import type { DustFound } from '../../core/measure/dust/index.js';
import { MOST_PIXELS } from '../measure/decode.js';
import { type DustFile, dustInFiles } from '../measure/dustOfBodies.js';

export interface SpotInFrame {
  /** Absolute. */
  readonly path: string;
  /** 0–1 across and down the picture as recorded. */
  readonly x: number;
  readonly y: number;
  /** Across, in pixels of a picture of 6,000 × 4,000. */
  readonly acrossPx: number;
}

export type LookJob =
  | { readonly kind: 'dust'; readonly files: readonly DustFile[] }
  | { readonly kind: 'spot'; readonly spot: SpotInFrame };

export type LookAnswer =
  | { readonly kind: 'dust'; readonly found: DustFound }
  /** A JPEG in base 64: answers travel as JSON. */
  | { readonly kind: 'picture'; readonly jpeg: string }
  | { readonly kind: 'failed'; readonly sentence: string };

const FULL_EDGE_PX = 6000;
/** The piece shown is so many times as wide as the spot, and no less than this of a full picture. */
const ROOM = 8;
const LEAST_PIECE_PX = 120;
const SHOWN_PX = 320;

export async function look(job: LookJob): Promise<LookAnswer> {
  try {
    return job.kind === 'dust'
      ? { kind: 'dust', found: await dustInFiles(job.files) }
      : { kind: 'picture', jpeg: (await pieceAround(job.spot)).toString('base64') };
  } catch (error) {
    return { kind: 'failed', sentence: (error as Error).message.split('\n')[0] ?? 'no reason was given' };
  }
}

/**
 * As recorded, not turned, the spot in the middle; where the picture ends there is plain grey. Lightest and darkest are drawn
 * apart, or nobody would see a spot of a few parts in a hundred.
 */
async function pieceAround({ path, x, y, acrossPx }: SpotInFrame): Promise<Buffer> {
  const picture = sharp(path, { limitInputPixels: MOST_PIXELS, autoOrient: false });
  const { width, height } = await picture.metadata();
  const half = Math.max(
    1,
    Math.round((Math.max(ROOM * acrossPx, LEAST_PIECE_PX) * Math.max(width, height)) / FULL_EDGE_PX / 2),
  );
  const [across, down] = [within(x, width, half), within(y, height, half)];
  const piece = await picture
    .extract({ left: across.from, top: down.from, width: across.size, height: down.size })
    .greyscale()
    .normalise({ lower: 1, upper: 99 })
    .png()
    .toBuffer();
  const around = { left: across.before, right: across.after, top: down.before, bottom: down.after };
  const whole = await sharp(piece)
    .extend({ ...around, background: '#808080' })
    .png()
    .toBuffer();
  return sharp(whole).resize(SHOWN_PX, SHOWN_PX, { fit: 'fill' }).jpeg({ quality: 80 }).toBuffer();
}

/** What of the piece lies in the picture, and how much beyond either end. */
function within(share: number, all: number, half: number) {
  const middle = Math.min(all - 1, Math.max(0, Math.floor(share * all)));
  const [first, last] = [middle - half, middle + half];
  const [from, to] = [Math.max(0, first), Math.min(all - 1, last)];
  return { from, size: to - from + 1, before: from - first, after: last - to };
}
