/**
 * The standard normal distribution: density, share below, and the loss integral.
 *
 * Share below from the error function by Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 7.1.26: absolute error
 * below 1.5 × 10⁻⁷ everywhere. The loss integral is L(u) = φ(u) − u (1 − Φ(u)), the mean of what a standard normal value lies
 * above u (H. Raiffa & R. Schlaifer, Applied Statistical Decision Theory, 1961, section 5.8).
 */

export const normalDensity = (u: number): number => Math.exp(-u * u * 0.5) / Math.sqrt(2 * Math.PI);

export function normalBelow(u: number): number {
  const x = Math.abs(u) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const series = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const tail = 0.5 * series * Math.exp(-x * x);
  return u < 0 ? tail : 1 - tail;
}

/** Never below nothing, as it would be by rounding far out. */
export const normalLoss = (u: number): number => Math.max(0, normalDensity(u) - u * (1 - normalBelow(u)));
