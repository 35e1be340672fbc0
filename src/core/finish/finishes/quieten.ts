/**
 * Grain reduction: every value moves towards the mean of its neighbours where they differ by no more than noise, and stays where there
 * is an edge ("Digital image enhancement and noise filtering by use of local statistics", IEEE PAMI-2(2), 165–168, 1980, eqs. 4–8;
 * 3 × 3 neighbours). The noise is taken to be the middle one of the local variances: most of a picture is smooth.
 */

/** At strength 1 this many times the noise that was found is taken away. */
const MOST = 2;
const BINS = 1024;
const NEIGHBOURS = 9;

/** Three interleaved bytes a pixel, in place. */
export function quieten(pixels: Uint8Array, width: number, height: number, strength: number): void {
  if (width < 3 || height < 3 || strength <= 0) return;
  const noise = MOST * strength * noiseOf(pixels, width, height);
  if (noise === 0) return;
  eachRow(pixels, width, height, 1, (row, sums, squares, before) => {
    for (let x = 3; x < before.length - 3; x += 1) {
      const mean = (sums[x - 3]! + sums[x]! + sums[x + 3]!) / NEIGHBOURS;
      const variance = (squares[x - 3]! + squares[x]! + squares[x + 3]!) / NEIGHBOURS - mean * mean;
      // (8): gain 0 in what is only noise, 1 where structure far exceeds it.
      const gain = variance <= noise ? 0 : (variance - noise) / variance;
      pixels[row + x] = mean + gain * (before[x]! - mean) + 0.5;
    }
  });
}

/** Middle of the local variances, to an eighth; every third row says enough. */
function noiseOf(pixels: Uint8Array, width: number, height: number): number {
  const counts = new Uint32Array(BINS);
  let all = 0;
  eachRow(pixels, width, height, 3, (_, sums, squares, before) => {
    for (let x = 3; x < before.length - 3; x += 7, all += 1) {
      const mean = (sums[x - 3]! + sums[x]! + sums[x + 3]!) / NEIGHBOURS;
      const variance = (squares[x - 3]! + squares[x]! + squares[x + 3]!) / NEIGHBOURS - mean * mean;
      counts[Math.min(BINS - 1, Math.floor(8 * variance))]! += 1;
    }
  });
  let bin = 0;
  for (let seen = counts[0]!; bin < BINS - 1 && seen * 2 < all; seen += counts[bin]!) bin += 1;
  return bin / 8;
}

/** Sums of three rows and of their squares, column by column; the rows as they were, though `visit` may write into the middle one. */
function eachRow(
  pixels: Uint8Array,
  width: number,
  height: number,
  step: number,
  visit: (row: number, sums: Int32Array, squares: Int32Array, before: Uint8Array) => void,
): void {
  const stride = 3 * width;
  const [sums, squares] = [new Int32Array(stride), new Int32Array(stride)];
  let above = pixels.slice(0, stride);
  for (let y = 1; y < height - 1; y += step) {
    const row = y * stride;
    if (step > 1) above = pixels.slice(row - stride, row);
    const own = pixels.slice(row, row + stride);
    for (let x = 0; x < stride; x += 1) {
      const [a, b, c] = [above[x]!, own[x]!, pixels[row + stride + x]!];
      sums[x] = a + b + c;
      squares[x] = a * a + b * b + c * c;
    }
    visit(row, sums, squares, own);
    above = own;
  }
}
