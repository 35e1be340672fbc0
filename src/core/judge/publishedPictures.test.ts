/**
 * Fineness on public test pictures (scikit-image's "camera", and "motorcycle_left" of the Middlebury stereo set). CHECKS 6 gives for
 * them that movement by 21 pixels leaves the variance of the Laplacian at 40.9, a missed focus of sigma 4 at 0.48, of sigma 1 at 48.6:
 * that measure calls a long movement as sharp as a small blur. Here it is told by direction.
 */
import { describe, expect, it } from 'vitest';
import { readGrey, skimagePictures } from '../../../test/fixtures/sharpness/skimagePictures.js';
import { type GreyImage, varianceOfLaplacian } from '../numeric/blur.js';
import { measureFineness, tellBlurFrom } from './measureFineness.js';
import type { Fineness } from './types.js';

/** The mean of `length` pixels along one axis, three times over where it stands for a lens (then near a Gaussian). */
function averaged({ data, width, height }: GreyImage, length: number, step: 'x' | 'y'): GreyImage {
  const half = (length - 1) / 2;
  const out = new Float32Array(data.length);
  const within = (index: number, size: number) => Math.min(size - 1, Math.max(0, index));
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      let sum = 0;
      for (let k = -half; k <= half; k += 1)
        sum += step === 'x' ? data[y * width + within(x + k, width)]! : data[within(y + k, height) * width + x]!;
      out[y * width + x] = sum / length;
    }
  return { data: out, width, height };
}

const outOfFocus = (image: GreyImage): GreyImage => {
  let blurred = image;
  for (let pass = 0; pass < 3; pass += 1) blurred = averaged(averaged(blurred, 3, 'x'), 3, 'y');
  return blurred;
};

function finenessOf(image: GreyImage): Fineness {
  const fineness = measureFineness(image, () => 1);
  if ('kind' in fineness) throw new Error(fineness.reason);
  return fineness;
}

const NAMES = ['camera', 'motorcycle_left'] as const;
const pictures = skimagePictures(NAMES, 2 * NAMES.length);

describe.skipIf(pictures === null)('on public pictures', () => {
  it.each(NAMES)('JU2: movement and missed focus of "%s" are told apart', async (name) => {
    const image = await readGrey(pictures![name]);
    const best = finenessOf(image);
    for (const length of [5, 9, 21]) {
      expect(tellBlurFrom(finenessOf(averaged(image, length, 'x')), best)).toEqual({ kind: 'moved', alongDeg: 0 });
      expect(tellBlurFrom(finenessOf(averaged(image, length, 'y')), best)).toEqual({ kind: 'moved', alongDeg: 90 });
    }
    expect(tellBlurFrom(finenessOf(outOfFocus(image)), best)).toEqual({ kind: 'missed-focus' });
    expect(tellBlurFrom(best, best)).toEqual({ kind: 'as-sharp' });
  });

  it.each(NAMES)(
    'JU1: more movement of "%s" is always less fine, though not by the Laplacian beside a small blur',
    async (name) => {
      const image = await readGrey(pictures![name]);
      const moved = [1, 5, 9, 21].map((length) => finenessOf(averaged(image, length, 'x')).alongX);
      expect(moved).toEqual([...moved].sort((a, b) => b - a));
      const [long, soft] = [averaged(image, 21, 'x'), outOfFocus(image)];
      expect(varianceOfLaplacian(long)).toBeGreaterThan(varianceOfLaplacian(soft));
      expect(finenessOf(long).alongX).toBeLessThan(finenessOf(soft).alongX);
    },
  );
});
