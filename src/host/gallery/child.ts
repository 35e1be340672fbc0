/** A child process that makes the gallery's pictures. Libvips decodes proofs here and nowhere else. */
import sharp from 'sharp';
import { serve } from '../children/index.js';
import { cutPicture } from './cutPicture.js';

// One thread a child and a child a core: see the finishing child.
sharp.concurrency(1);
sharp.cache(false);
serve(cutPicture);
