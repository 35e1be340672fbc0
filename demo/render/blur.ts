/** Blurs over interleaved float pictures: out of focus, and along a line for movement. */
import { exp } from './maths.js';

/** Box blur, run twice unless said otherwise: nearly round, and quick. Radii in pixels, rounded. */
export function softened(
  source: Float32Array,
  width: number,
  height: number,
  channels: number,
  radiusX: number,
  radiusY: number,
  passes = 2,
): Float32Array {
  let from = source;
  for (let pass = 0; pass < passes; pass++) {
    from = boxAlong(from, width, height, channels, Math.round(radiusX), true);
    from = boxAlong(from, width, height, channels, Math.round(radiusY), false);
  }
  return from;
}

/** Convolved with a Gaussian of any width, cut off at three sigmas. */
export function gaussian(
  source: Float32Array,
  width: number,
  height: number,
  channels: number,
  sigma: number,
): Float32Array {
  const radius = Math.ceil(3 * sigma);
  const raw = Array.from({ length: 2 * radius + 1 }, (_, k) => exp(-0.5 * ((k - radius) / sigma) ** 2));
  const whole = raw.reduce((sum, weight) => sum + weight, 0);
  const weights = raw.map((weight) => weight / whole);
  const across = weighted(source, width, height, channels, weights, 1, 0);
  return weighted(across, width, height, channels, weights, 0, 1);
}

function weighted(
  source: Float32Array,
  width: number,
  height: number,
  channels: number,
  weights: readonly number[],
  stepX: number,
  stepY: number,
): Float32Array {
  const out = new Float32Array(source.length);
  const radius = (weights.length - 1) / 2;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let k = -radius; k <= radius; k++) {
        const from = (within(y + k * stepY, height) * width + within(x + k * stepX, width)) * channels;
        const to = (y * width + x) * channels;
        for (let c = 0; c < channels; c++) out[to + c]! += weights[k + radius]! * source[from + c]!;
      }
  return out;
}

function boxAlong(
  source: Float32Array,
  width: number,
  height: number,
  channels: number,
  radius: number,
  isAcross: boolean,
): Float32Array {
  if (radius < 1) return source;
  const out = new Float32Array(source.length);
  const count = isAcross ? width : height;
  const lines = isAcross ? height : width;
  const step = (isAcross ? 1 : width) * channels;
  const nextLine = (isAcross ? width : 1) * channels;
  const share = 1 / (2 * radius + 1);
  const last = count - 1;
  for (let line = 0; line < lines; line++)
    for (let c = 0; c < channels; c++) {
      const base = line * nextLine + c;
      let sum = source[base]! * (radius + 1);
      for (let i = 1; i <= radius; i++) sum += source[base + Math.min(i, last) * step]!;
      for (let i = 0; i < count; i++) {
        out[base + i * step] = sum * share;
        sum += source[base + Math.min(i + radius + 1, last) * step]! - source[base + Math.max(i - radius, 0) * step]!;
      }
    }
  return out;
}

/**
 * The mean along a straight line of `(moveX, moveY)` pixels, by doubling: each step averages the picture with itself moved.
 * The result is one-sided: a point's picture trails from it against the movement.
 */
export function streaked(
  source: Float32Array,
  width: number,
  height: number,
  channels: number,
  moveX: number,
  moveY: number,
): Float32Array {
  const reach = Math.max(Math.abs(moveX), Math.abs(moveY));
  let from = source;
  let steps = 1;
  while (steps < reach) steps *= 2;
  for (let share = 1 / steps; share < 1; share *= 2)
    from = averagedWithMoved(from, width, height, channels, moveX * share, moveY * share);
  return from;
}

const within = (i: number, end: number): number => (i < 0 ? 0 : i >= end ? end - 1 : i);

function averagedWithMoved(
  source: Float32Array,
  width: number,
  height: number,
  channels: number,
  dx: number,
  dy: number,
): Float32Array {
  const out = new Float32Array(source.length);
  const ix = Math.floor(dx);
  const iy = Math.floor(dy);
  const fx = dx - ix;
  const fy = dy - iy;
  for (let y = 0; y < height; y++) {
    const row = within(y + iy, height) * width;
    const below = within(y + iy + 1, height) * width;
    for (let x = 0; x < width; x++) {
      const left = within(x + ix, width);
      const right = within(x + ix + 1, width);
      const o = (y * width + x) * channels;
      for (let c = 0; c < channels; c++) {
        const top = source[(row + left) * channels + c]! * (1 - fx) + source[(row + right) * channels + c]! * fx;
        const bottom = source[(below + left) * channels + c]! * (1 - fx) + source[(below + right) * channels + c]! * fx;
        out[o + c] = 0.5 * (source[o + c]! + top * (1 - fy) + bottom * fy);
      }
    }
  }
  return out;
}
