/** Common shapes of a picture. */
import type { Ratio } from '../../log/finishSaid.js';

export const WIDTH_OVER_HEIGHT: Readonly<Record<Ratio, number>> = {
  '3:2': 3 / 2,
  '4:5': 4 / 5,
  '1:1': 1,
  '16:9': 16 / 9,
};
