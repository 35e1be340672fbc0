/** Single real pictures beside themselves after one known step: the truth is the step. Nothing of them is kept. */
import sharp, { type Sharp } from 'sharp';
import type { RgbImage } from '../../../src/core/measure/index.js';
import type { Box } from '../../../src/core/measure/types.js';

export const STEPS = ['soft', 'moved', 'cut', 'bright'] as const;
export type Step = (typeof STEPS)[number];

/** Of a picture about 500 px wide; a larger one takes as much more. */
const SOFT_SIGMA_PX = 0.7;
const MOVED_PX = 3;
const CUT_SHARE = 0.1;
const BRIGHT_EV = 0.7;
const WIDTH_PX = 500;

/** @param box of the bike that is to be cut */
export async function afterStep(image: RgbImage, step: Step, box: Box): Promise<RgbImage> {
  const { data, width, height } = image;
  const scale = Math.max(1, width / WIDTH_PX);
  const picture = sharp(data, { raw: { width, height, channels: 3 } });
  switch (step) {
    case 'soft':
      return back(picture.blur({ sigma: SOFT_SIGMA_PX * scale }));
    case 'moved': {
      const length = 2 * Math.round((MOVED_PX * scale - 1) / 2) + 1;
      // The kernel is square; only its middle row blurs.
      const kernel = Array.from({ length: length * length }, (_, at) =>
        Math.floor(at / length) === (length - 1) / 2 ? 1 : 0,
      );
      return back(picture.convolve({ width: length, height: length, kernel }));
    }
    case 'cut': {
      const left = Math.round((box[0] + CUT_SHARE * box[2]) * width);
      return back(picture.extract({ left, top: 0, width: width - left, height }));
    }
    case 'bright':
      return { data: data.map((value) => Math.min(255, Math.round(value * 2 ** (BRIGHT_EV / GAMMA)))), width, height };
  }
}

const GAMMA = 2.2;

const back = async (picture: Sharp): Promise<RgbImage> => {
  const { data, info } = await picture.raw().toBuffer({ resolveWithObject: true });
  return { data, width: info.width, height: info.height };
};
