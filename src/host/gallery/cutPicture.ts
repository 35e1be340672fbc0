/** A proof's smaller pictures, or those of a part of it. Decoded once for all of them. */
import sharp, { type Sharp } from 'sharp';
import type { PictureFile } from '../../gallery/index.js';
// Past the index: a child loads what it needs and nothing else.
import { writeAtomically } from '../finish/atomically.js';

export interface CutJob {
  /** Absolute path. */
  readonly proof: string;
  /** In pixels of the proof; all of it where null. */
  readonly region: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  } | null;
  readonly cuts: readonly Cut[];
}

export interface Cut extends Pick<PictureFile, 'format' | 'size'> {
  /** Absolute path. */
  readonly to: string;
}

export type CutOutcome = { readonly kind: 'made' } | { readonly kind: 'failed'; readonly sentence: string };

/** A proof that cannot be read is an outcome; a place that cannot be written to is an error. */
export async function cutPicture({ proof, region, cuts }: CutJob): Promise<CutOutcome> {
  const made: { readonly to: string; readonly bytes: Buffer }[] = [];
  try {
    const { data, info } = await largestOf(proof, region, cuts);
    const { width, height, channels } = info;
    for (const { to, size, format } of cuts) {
      const resized = sharp(data, { raw: { width, height, channels } }).resize(size.widthPx, size.heightPx, AS_IT_IS);
      // No metadata but the profile: words are in the proof.
      made.push({ to, bytes: await encoded[format](resized.withIccProfile('srgb')).toBuffer() });
    }
  } catch (error) {
    const said = (error as Error).message.split('\n')[0];
    return { kind: 'failed', sentence: `it could not be read (${said})` };
  }
  for (const { to, bytes } of made) await writeAtomically(to, bytes);
  return { kind: 'made' };
}

const AS_IT_IS = { fit: 'fill' } as const;

/** The pixels the others are made smaller from; a proof is decoded no second time. */
function largestOf(proof: string, region: CutJob['region'], cuts: CutJob['cuts']) {
  const { widthPx, heightPx } = cuts.map(({ size }) => size).reduce((a, b) => (a.widthPx >= b.widthPx ? a : b));
  const whole = sharp(proof);
  const part = region === null ? whole : whole.extract(region);
  return part
    .resize(widthPx, heightPx, { fit: region === null ? 'fill' : 'cover' })
    .raw()
    .toBuffer({ resolveWithObject: true });
}

/** Qualities that look alike beside each other, and efforts that earn their time: docs/rules/gallery.md. */
const encoded: Readonly<Record<PictureFile['format'], (picture: Sharp) => Sharp>> = {
  jpeg: (picture) => picture.jpeg({ quality: 74, progressive: true }),
  webp: (picture) => picture.webp({ quality: 72, effort: 4 }),
  avif: (picture) => picture.avif({ quality: 54, effort: 3 }),
};
