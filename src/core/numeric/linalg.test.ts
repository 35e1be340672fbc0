import { describe, expect, it } from 'vitest';
import { dot, principalDirections } from './linalg.js';

describe('principal directions', () => {
  it('of points on an ellipse are its axes, with the closed-form variances', () => {
    // x = 3 cos t, y = sin t turned by 30°: variances 9/2 and 1/2 along the turned axes.
    const turn = Math.PI / 6;
    const samples = Array.from({ length: 360 }, (_, deg) => {
      const [x, y] = [3 * Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
      return [5 + x * Math.cos(turn) - y * Math.sin(turn), -2 + x * Math.sin(turn) + y * Math.cos(turn)];
    });
    const { mean, directions, variances } = principalDirections(samples, 2);
    expect(mean[0]).toBeCloseTo(5, 9);
    expect(mean[1]).toBeCloseTo(-2, 9);
    expect(variances[0]).toBeCloseTo(4.5, 9);
    expect(variances[1]).toBeCloseTo(0.5, 9);
    expect(Math.abs(dot(directions[0]!, [Math.cos(turn), Math.sin(turn)]))).toBeCloseTo(1, 9);
  });

  it('are orthonormal, and no more than the samples can span', () => {
    const samples = Array.from({ length: 4 }, (_, row) =>
      Array.from({ length: 10 }, (_, column) => ((row * 37 + column * 91) ** 2 % 101) / 101),
    );
    const { directions } = principalDirections(samples, 8);
    expect(directions).toHaveLength(3);
    for (const [i, a] of directions.entries()) {
      for (const [j, b] of directions.entries()) expect(dot(a, b)).toBeCloseTo(i === j ? 1 : 0, 6);
    }
  });

  it('of nothing are nothing', () => {
    expect(principalDirections([], 3).directions).toEqual([]);
  });
});
