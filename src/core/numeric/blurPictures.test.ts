/**
 * Focus measures on public test pictures, blurred as SciPy blurs them. Expected values: CHECKS 6, computed there with
 * SciPy 1.10 (ndimage.laplace, sobel, gaussian_filter, uniform_filter1d; mode "mirror") and by a second program.
 */
import { describe, expect, it } from 'vitest';
import { readGrey, skimagePictures } from '../../../test/fixtures/sharpness/skimagePictures.js';
import { brenner, type GreyImage, sobelEnergy, tenengrad, varianceOfLaplacian } from './blur.js';

const mirrored = (index: number, size: number): number => {
  const inside = Math.abs(index);
  return inside >= size ? 2 * size - 2 - inside : inside;
};

type Kernel = readonly number[];

/** Correlation with a kernel of odd length along one axis; the border is mirrored about the edge pixel. */
function along({ width, height, data }: GreyImage, axis: 'x' | 'y', kernel: Kernel): GreyImage {
  const radius = (kernel.length - 1) / 2;
  const out = new Float32Array(width * height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      let sum = 0;
      for (const [k, weight] of kernel.entries()) {
        const column = axis === 'x' ? mirrored(x + k - radius, width) : x;
        const row = axis === 'y' ? mirrored(y + k - radius, height) : y;
        sum += weight * data[row * width + column]!;
      }
      out[y * width + x] = sum;
    }
  }
  return { width, height, data: out };
}

const normalised = (weights: Kernel): Kernel => {
  const sum = weights.reduce((a, b) => a + b);
  return weights.map((weight) => weight / sum);
};

/** Cut off at four sigmas, as SciPy does. */
function gaussian(image: GreyImage, sigma: number): GreyImage {
  const radius = Math.floor(4 * sigma + 0.5);
  const kernel = normalised(
    Array.from({ length: 2 * radius + 1 }, (_, k) => Math.exp(-0.5 * ((k - radius) / sigma) ** 2)),
  );
  return along(along(image, 'y', kernel), 'x', kernel);
}

const horizontalBox = (image: GreyImage, lengthPx: number): GreyImage =>
  along(image, 'x', new Array<number>(lengthPx).fill(1 / lengthPx));

const pictures = skimagePictures(['camera', 'motorcycle_left', 'clock_motion'], 9);
/** Relative; the published values have two to eight figures, our blurred pictures 24 bits a pixel. */
const close = (found: number, published: number, tolerance: number): void =>
  expect(Math.abs(found / published - 1), `${found} against ${published}`).toBeLessThan(tolerance);

describe.skipIf(pictures === null)('focus measures of public pictures', () => {
  it('give the published values of "camera" as it is', async () => {
    const camera = await readGrey(pictures!.camera);
    expect([camera.width, camera.height]).toEqual([512, 512]);
    close(varianceOfLaplacian(camera), 1133.1627, 1e-6);
    close(tenengrad(camera), 9999.4513, 1e-6);
    close(brenner(camera), 483.5552, 1e-6);
  });

  it.each([
    [1, 48.5865, 4503.667, 188.264],
    [2, 6.0083, 1862.68, 71.9],
    [4, 0.4821, 646.35, 22.03],
  ])(
    'give the published values of "camera" out of focus by sigma %i',
    async (sigma, laplacian, gradient, difference) => {
      const blurred = gaussian(await readGrey(pictures!.camera), sigma);
      close(varianceOfLaplacian(blurred), laplacian, 2e-4);
      close(tenengrad(blurred), gradient, 2e-4);
      close(brenner(blurred), difference, 2e-4);
    },
  );

  it.each([
    [5, 155.28, 139.25],
    [9, 87.34, 57.28],
    [21, 40.9, 18.11],
  ])('give the published values of "camera" moved by %i px', async (lengthPx, laplacian, difference) => {
    const moved = horizontalBox(await readGrey(pictures!.camera), lengthPx);
    close(varianceOfLaplacian(moved), laplacian, 2e-4);
    close(brenner(moved), difference, 2e-4);
  });

  it('tell movement from defocus by the direction, where the variance of the Laplacian cannot', async () => {
    const camera = await readGrey(pictures!.camera);
    const directed = (image: GreyImage) => {
      const { alongX, alongY } = sobelEnergy(image);
      return alongX / alongY;
    };
    const [sharp, soft, moved] = [camera, gaussian(camera, 4), horizontalBox(camera, 21)].map(directed) as [
      number,
      number,
      number,
    ];
    expect(moved).toBeLessThan(sharp / 4);
    expect(soft).toBeGreaterThan(sharp / 2);
    expect(varianceOfLaplacian(horizontalBox(camera, 21))).toBeGreaterThan(
      50 * varianceOfLaplacian(gaussian(camera, 4)),
    );
  });

  it('give the published values of "motorcycle_left" (Middlebury) and of "clock_motion", which really moved', async () => {
    const bike = await readGrey(pictures!.motorcycle_left);
    close(varianceOfLaplacian(bike), 1124.66, 2e-5);
    close(tenengrad(bike), 17522.4, 2e-5);
    close(brenner(bike), 692.02, 2e-5);
    close(varianceOfLaplacian(horizontalBox(bike, 21)), 81.68, 2e-4);
    close(varianceOfLaplacian(await readGrey(pictures!.clock_motion)), 24.29, 5e-4);
  });
});
