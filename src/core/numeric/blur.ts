/**
 * Focus measures on a grey picture: variance of the Laplacian (4-neighbour kernel; J. L. Pech-Pacheco et al., "Diatom
 * autofocusing in brightfield microscopy", ICPR 2000), Tenengrad (mean squared Sobel gradient, kernels not normalised;
 * J. M. Tenenbaum 1970 as commonly given) and Brenner (mean squared difference two pixels apart; J. F. Brenner et al.,
 * J. Histochem. Cytochem. 24(1), 1976). Border: reflection about the edge pixel (…2 1 | 0 1 2…).
 * All three grow with contrast squared, noise and resolution: no threshold carries from one camera to another, so they
 * rank frames of one burst and nothing more.
 */

export interface GreyImage {
  /** Row by row, `width * height` values. */
  readonly data: Uint8Array | Uint8ClampedArray | Float32Array;
  readonly width: number;
  readonly height: number;
}

/** Index reflected about the edge pixel. */
const reflect = (index: number, size: number): number => {
  if (size === 1) return 0;
  if (index < 0) return -index;
  return index >= size ? 2 * size - 2 - index : index;
};

/** Sum of `weights` (3×3, row by row) over the neighbourhood of every pixel, handed to `visit` in order. */
function convolve3(image: GreyImage, weights: readonly number[], visit: (value: number) => void): void {
  const { data, width, height } = image;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      let sum = 0;
      for (let k = 0; k < 9; k += 1) {
        const weight = weights[k]!;
        if (weight === 0) continue;
        const row = reflect(y + Math.floor(k / 3) - 1, height);
        const column = reflect(x + (k % 3) - 1, width);
        sum += weight * data[row * width + column]!;
      }
      visit(sum);
    }
  }
}

const LAPLACIAN = [0, 1, 0, 1, -4, 1, 0, 1, 0];
const SOBEL_X = [-1, 0, 1, -2, 0, 2, -1, 0, 1];
const SOBEL_Y = [-1, -2, -1, 0, 0, 0, 1, 2, 1];

/** Population variance of the Laplacian over all pixels. */
export function varianceOfLaplacian(image: GreyImage): number {
  let sum = 0;
  let squares = 0;
  convolve3(image, LAPLACIAN, (value) => {
    sum += value;
    squares += value * value;
  });
  const count = image.width * image.height;
  return squares / count - (sum / count) ** 2;
}

/** Mean squared Sobel gradient across x and across y; Tenengrad is their sum. */
export function sobelEnergy(image: GreyImage): { readonly alongX: number; readonly alongY: number } {
  const count = image.width * image.height;
  let alongX = 0;
  let alongY = 0;
  convolve3(image, SOBEL_X, (value) => {
    alongX += value * value;
  });
  convolve3(image, SOBEL_Y, (value) => {
    alongY += value * value;
  });
  return { alongX: alongX / count, alongY: alongY / count };
}

export function tenengrad(image: GreyImage): number {
  const { alongX, alongY } = sobelEnergy(image);
  return alongX + alongY;
}

/** Mean squared difference of pixels two columns apart, over the pairs that lie inside. */
export function brenner(image: GreyImage): number {
  const { data, width, height } = image;
  let squares = 0;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x + 2 < width; x += 1) {
      squares += (data[y * width + x + 2]! - data[y * width + x]!) ** 2;
    }
  }
  return squares / ((width - 2) * height);
}
