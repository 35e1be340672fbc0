import type { Aim } from './types.js';

/** Three angles are common practice; eight good frames are the least of the ten to thirty that a rider is shown. */
export const AFTERNOON_AIM: Aim = { spots: 3, goodFrames: 8 };
