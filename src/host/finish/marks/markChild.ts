/** A child process that draws a photographer's own mark once; from then on only the PNG made here is read. */
import sharp from 'sharp';
import { serve } from '../../children/index.js';
import { prepareMark } from './prepareMark.js';

sharp.concurrency(1);
sharp.cache(false);
serve(prepareMark);
