/** A smaller picture, or a part of one, made of a proof. */
import sharp from 'sharp';
import type { PixelSize } from '../../core/finish/index.js';
// Past the index: a child loads what it needs and nothing else.
import { writeAtomically } from '../finish/atomically.js';

export interface CutJob {
  /** Absolute paths. */
  readonly proof: string;
  readonly to: string;
  /** In pixels of the proof; all of it where null. */
  readonly region: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  } | null;
  readonly size: PixelSize;
}

export type CutOutcome = { readonly kind: 'made' } | { readonly kind: 'failed'; readonly sentence: string };

/** A proof that cannot be read is an outcome; a place that cannot be written to is an error. */
export async function cutPicture(job: CutJob): Promise<CutOutcome> {
  let bytes: Buffer;
  try {
    bytes = await jpegOf(job);
  } catch (error) {
    const said = (error as Error).message.split('\n')[0];
    return { kind: 'failed', sentence: `it could not be read (${said})` };
  }
  await writeAtomically(job.to, bytes);
  return { kind: 'made' };
}

/** No metadata but the profile: words are in the proof. */
function jpegOf({ proof, region, size: { widthPx, heightPx } }: CutJob): Promise<Buffer> {
  const whole = sharp(proof);
  const resized =
    region === null
      ? whole.resize(widthPx, heightPx, { fit: 'fill' })
      : whole.extract(region).resize(widthPx, heightPx, { fit: 'cover' });
  return resized.withIccProfile('srgb').jpeg({ quality: 74, progressive: true }).toBuffer();
}
