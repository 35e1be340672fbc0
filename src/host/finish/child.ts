/** A finishing child process. Libvips decodes originals here and nowhere else (decision 13 of the design). */
import sharp from 'sharp';
import { serve } from '../children/index.js';
import { makePicture } from './makePicture.js';

// One thread a child and a child a core cost less than several threads on one picture; no picture is read twice.
sharp.concurrency(1);
sharp.cache(false);
serve(makePicture);
