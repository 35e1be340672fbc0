import { describe, expect, it } from 'vitest';
import { reliability, type Saying } from './reliability.js';

const sayings = (said: readonly number[], right: readonly number[]): Saying[] =>
  said.map((chance, i) => ({ said: chance, isRight: right[i] === 1 }));

describe('reliability', () => {
  // Source: TorchMetrics 1.x, example of `binary_calibration_error` with two bins and the L1 norm: 0.2900.
  it('gives the published calibration error', () => {
    const curve = reliability(sayings([0.25, 0.25, 0.55, 0.75, 0.75], [0, 0, 1, 1, 1]), 2)!;
    expect(curve.expectedError).toBeCloseTo(0.29, 4);
    expect(curve.bins.map(({ count }) => count)).toEqual([2, 3]);
  });

  // Source: scikit-learn 1.4, example of `brier_score_loss`: 0.037….
  it('gives the published Brier score', () => {
    const curve = reliability(sayings([0.1, 0.9, 0.8, 0.3], [0, 1, 1, 0]))!;
    expect(curve.brier).toBeCloseTo(0.0375, 9);
    expect(curve.brierOfConstant).toBeCloseTo(0.25, 9);
  });

  it('puts certainty into the last bin and leaves empty bins out', () => {
    const curve = reliability(sayings([1, 1, 0], [1, 0, 0]))!;
    expect(curve.bins).toEqual([
      { said: 0, right: 0, count: 1 },
      { said: 1, right: 0.5, count: 2 },
    ]);
  });

  it('says nothing about no sayings', () => {
    expect(reliability([])).toBeNull();
  });
});
