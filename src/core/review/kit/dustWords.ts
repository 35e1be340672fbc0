/** How the kit's records say bodies and dust. */
import type { BodyKey } from '../../ids.js';
import type { DustSpot } from '../../measure/dust/index.js';

/** Make, model and serial of a body; what its files leave out is left out. */
export const bodyName = (body: BodyKey): string =>
  body
    .split('|')
    .filter((part) => part !== '')
    .join(' ');

const percent = (share: number): number => Math.round(100 * share);

export const dustWords = ({ x, y, acrossPx, darker, frames, judged }: DustSpot): string =>
  `a spot about ${acrossPx} px across, ${percent(darker)} % darker, ${percent(x)} % from the left and ${percent(y)} % down the picture as recorded; seen in ${frames.length} of ${judged} frames.`;
