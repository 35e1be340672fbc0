/**
 * How well a confidence keeps its word. Expected calibration error over bins of equal width: M. P. Naeini
 * and others, "Obtaining well calibrated probabilities using Bayesian binning", AAAI 2015, 2901–2907; Brier score:
 * G. W. Brier, "Verification of forecasts expressed in terms of probability", Monthly Weather Review 78 (1950) 1–3, in
 * its later form for yes and no (half of Brier's own).
 */
export interface Saying {
  /** Chance said, 0–1. */
  readonly said: number;
  readonly isRight: boolean;
}

export interface Reliability {
  /** Bins that hold anything, rising: mean chance said, share right. */
  readonly bins: readonly { readonly said: number; readonly right: number; readonly count: number }[];
  readonly expectedError: number;
  readonly brier: number;
  /** Of always saying the overall share. */
  readonly brierOfConstant: number;
}

const BINS = 10;

/** Null for no sayings. */
export function reliability(sayings: readonly Saying[], binCount = BINS): Reliability | null {
  if (sayings.length === 0) return null;
  const binAt = (said: number): number => Math.min(binCount - 1, Math.floor(said * binCount));
  const bins = Array.from({ length: binCount }, (_, b) =>
    binOf(sayings.filter(({ said }) => binAt(said) === b)),
  ).filter(({ count }) => count > 0);
  const rate = mean(sayings.map(rightOf));
  return {
    bins,
    expectedError: bins.reduce(
      (sum, { said, right, count }) => sum + (count * Math.abs(said - right)) / sayings.length,
      0,
    ),
    brier: mean(sayings.map((saying) => (saying.said - rightOf(saying)) ** 2)),
    brierOfConstant: rate * (1 - rate),
  };
}

const rightOf = ({ isRight }: Saying): number => (isRight ? 1 : 0);

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

const binOf = (own: readonly Saying[]) => ({
  said: own.length === 0 ? 0 : mean(own.map(({ said }) => said)),
  right: own.length === 0 ? 0 : mean(own.map(rightOf)),
  count: own.length,
});
