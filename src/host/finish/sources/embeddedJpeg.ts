/** The JPEG that a camera puts into its raw, with the raw's own orientation written into it. */
import type { Recognised } from '../../metadata/mediaKind.js';
import { readRaw } from '../../metadata/raw.js';
import type { ByteSource } from '../../metadata/source.js';
import { withOrientation } from './orientation.js';

export interface EmbeddedJpeg {
  readonly upright: Buffer;
  readonly longEdgePx: number;
}

export async function embeddedJpeg(source: ByteSource, layout: Recognised['layout']): Promise<EmbeddedJpeg | null> {
  const { preview, exif } = await readRaw(source, layout);
  if (preview === null) return null;
  const jpeg = await source.read(preview.offset, preview.bytes);
  return {
    upright: withOrientation(jpeg, exif.orientation ?? 1),
    longEdgePx: Math.max(preview.widthPx, preview.heightPx),
  };
}
