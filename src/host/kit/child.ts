/** A child process that looks at frames for what the kit did. */
import sharp from 'sharp';
import { serve } from '../children/index.js';
import { look } from './look.js';

sharp.concurrency(1);
sharp.cache(false);
serve(look);
