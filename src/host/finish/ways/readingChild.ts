/** A child process that reads pictures from other programs. Libvips decodes them here and nowhere else (decision 13 of the design). */
import sharp from 'sharp';
import { serve } from '../../children/index.js';
import { readReturned } from './readReturned.js';

sharp.concurrency(1);
sharp.cache(false);
serve(readReturned);
