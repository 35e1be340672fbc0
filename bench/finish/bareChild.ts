/** The bare loop, a child of it: sharp resizes and saves, nothing else. */
import sharp from 'sharp';
import { serve } from '../../src/host/children/index.js';
import type { BareJob } from './bareLoop.js';

// As the finisher's own children are set: one thread a child and a child a core is the fastest way here.
sharp.concurrency(1);
sharp.cache(false);
serve(async ({ from, to, longEdgePx, quality, chromaSubsampling }: BareJob) => {
  const picture = sharp(from);
  const sized = longEdgePx === null ? picture : picture.resize(longEdgePx, longEdgePx, { fit: 'inside' });
  await sized.jpeg({ quality, chromaSubsampling }).toFile(to);
  return 'saved';
});
