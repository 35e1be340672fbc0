import { describe, expect, it } from 'vitest';
import { brenner, type GreyImage, sobelEnergy, tenengrad, varianceOfLaplacian } from './blur.js';

const draw = (width: number, height: number, valueAt: (x: number, y: number) => number): GreyImage => ({
  width,
  height,
  data: Float32Array.from({ length: width * height }, (_, index) => valueAt(index % width, Math.floor(index / width))),
});

/** Exact cases, reflect-101 border, as SciPy's ndimage computes them. */
const CASES = [
  {
    what: 'a 5×5 unit impulse',
    image: draw(5, 5, (x, y) => (x === 2 && y === 2 ? 1 : 0)),
    vl: 0.8,
    tenengrad: 0.96,
    brenner: 2 / 15,
  },
  {
    what: 'an 8×8 upright step',
    image: draw(8, 8, (x) => (x < 4 ? 0 : 255)),
    vl: 16256.25,
    tenengrad: 260100,
    brenner: 21675,
  },
  {
    what: 'an 8×8 checkerboard of single pixels',
    image: draw(8, 8, (x, y) => ((x + y) % 2) * 255),
    vl: 1040400,
    tenengrad: 0,
    brenner: 0,
  },
];

describe('focus measures', () => {
  it.each(CASES)('give the closed values of $what', ({ image, vl, tenengrad: gradient, brenner: difference }) => {
    expect(varianceOfLaplacian(image)).toBeCloseTo(vl, 6);
    expect(tenengrad(image)).toBeCloseTo(gradient, 6);
    expect(brenner(image)).toBeCloseTo(difference, 6);
  });

  it('see an upright edge only across x', () => {
    const { alongX, alongY } = sobelEnergy(draw(8, 8, (x) => (x < 4 ? 0 : 255)));
    expect(alongX).toBe(260100);
    expect(alongY).toBe(0);
  });
});
