/**
 * Grain reduction: every value moves towards the mean of its neighbours where they differ by no more than noise, and stays where there
 * is an edge ("Digital image enhancement and noise filtering by use of local statistics", IEEE PAMI-2(2), 165–168, 1980,
 * eqs. 4–8; 3 × 3 neighbours). The noise is taken to be the middle one of the local variances: most of a picture is smooth.
 */

/** At strength 1 this many times the noise that was found is taken away. */
const MOST = 2;
const BINS = 1024;

/** Three interleaved bytes a pixel; a new picture. */
export function quieten(pixels: Uint8Array, width: number, height: number, strength: number): Uint8Array {
  if (width < 3 || height < 3 || strength <= 0) return pixels;
  const out = pixels.slice();
  const noise = MOST * strength * noiseOf(pixels, width, height);
  if (noise === 0) return out;
  const stride = 3 * width;
  for (let y = 1; y < height - 1; y += 1)
    for (let at = y * stride + 3, end = (y + 1) * stride - 3; at < end; at += 1) {
      aroundOf(pixels, at, stride);
      const [mean, variance] = [around[0]!, around[1]!];
      // (8): gain 0 in what is only noise, 1 where structure far exceeds it.
      const gain = Math.max(0, variance - noise) / Math.max(variance, noise);
      out[at] = Math.round(mean + gain * (pixels[at]! - mean));
    }
  return out;
}

/** Mean and variance, in place: one array for every pixel of a day would be too many. */
const around = new Float64Array(2);
function aroundOf(pixels: Uint8Array, at: number, stride: number): void {
  let [sum, squares] = [0, 0];
  for (let row = at - stride; row <= at + stride; row += stride)
    for (let x = row - 3; x <= row + 3; x += 3) {
      const value = pixels[x]!;
      sum += value;
      squares += value * value;
    }
  around[0] = sum / 9;
  around[1] = squares / 9 - around[0] ** 2;
}

/** Middle of the local variances, to an eighth; one value of twenty-one says enough. */
function noiseOf(pixels: Uint8Array, width: number, height: number): number {
  const counts = new Uint32Array(BINS);
  let all = 0;
  const stride = 3 * width;
  for (let y = 1; y < height - 1; y += 2)
    for (let at = y * stride + 3; at < (y + 1) * stride - 3; at += 21, all += 1) {
      aroundOf(pixels, at, stride);
      counts[Math.min(BINS - 1, Math.floor(8 * around[1]!))]! += 1;
    }
  let bin = 0;
  for (let seen = counts[0]!; bin < BINS - 1 && seen * 2 < all; seen += counts[bin]!) bin += 1;
  return bin / 8;
}
