import { expect, it } from 'vitest';
import type { GreyImage } from '../measure/images.js';
import { seededRandom } from '../numeric/random.js';
import { edgeWidth } from './edgeWidth.js';

const SIZE = 240;
const everywhere = (): boolean => true;

/** Columns and rows of blocks, blurred by Gaussians of their own across and down, with grain. */
function blocks(sigmaX: number, sigmaY: number, grain = 0): GreyImage {
  const random = seededRandom(9);
  const cells = Array.from({ length: 64 }, () => random.integer(0, 1) * 170 + 40);
  let data = Float64Array.from(
    { length: SIZE * SIZE },
    (_, at) => cells[8 * Math.floor(Math.floor(at / SIZE) / 30) + Math.floor((at % SIZE) / 30)]!,
  );
  data = blurred(blurred(data, sigmaX, 1), sigmaY, SIZE);
  const noisy = data.map((value) => value + grain * (random.between(-1, 1) + random.between(-1, 1)));
  return {
    data: Uint8Array.from(noisy, (value) => Math.max(0, Math.min(255, Math.round(value)))),
    width: SIZE,
    height: SIZE,
  };
}

function blurred(data: Float64Array<ArrayBuffer>, sigma: number, step: number): Float64Array<ArrayBuffer> {
  if (sigma === 0) return data;
  const half = Math.ceil(4 * sigma);
  const weights = Array.from({ length: 2 * half + 1 }, (_, k) => Math.exp(-((k - half) ** 2) / (2 * sigma ** 2)));
  const whole = weights.reduce((sum, weight) => sum + weight, 0);
  return data.map((_, at) => {
    const place = step === 1 ? at % SIZE : Math.floor(at / SIZE);
    return (
      weights.reduce((sum, weight, k) => {
        const there = Math.max(0, Math.min(SIZE - 1, place + k - half));
        return sum + weight * data[at + (there - place) * step]!;
      }, 0) / whole
    );
  });
}

// Quantiles of the normal distribution at 0.1 and 0.9 lie 2 × 1.2816 σ apart (Abramowitz & Stegun, Handbook, 1964, table 26.5).
it.each([0.8, 1.2, 2, 3, 4.5, 6])('JU18: an edge blurred by σ = %d px is 2.563 σ wide within a fifth', (sigma) => {
  expect(edgeWidth(blocks(sigma, sigma), everywhere)! / (2.563 * sigma)).toBeGreaterThan(0.8);
  expect(edgeWidth(blocks(sigma, sigma), everywhere)! / (2.563 * sigma)).toBeLessThan(1.2);
});

it('JU18: movement one way widens it though the other edges stay fine', () => {
  const still = edgeWidth(blocks(0.8, 0.8), everywhere)!;
  expect(edgeWidth(blocks(4, 0.8), everywhere)!).toBeGreaterThan(3 * still);
  expect(edgeWidth(blocks(0.8, 4), everywhere)!).toBeGreaterThan(3 * still);
});

it('JU18: grain is not taken for edges, and little of it changes nothing much', () => {
  const clean = edgeWidth(blocks(2, 2), everywhere)!;
  expect(Math.abs(edgeWidth(blocks(2, 2, 2), everywhere)! - clean)).toBeLessThan(0.35 * clean);
  const flat: GreyImage = { ...blocks(2, 2), data: blocks(60, 60, 6).data };
  expect(edgeWidth(flat, everywhere)).toBeNull();
});

it('JU18: too few edges say nothing', () => {
  expect(edgeWidth(blocks(1, 1), (x, y) => x < 20 && y < 20)).toBeNull();
});
