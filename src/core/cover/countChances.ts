/**
 * Chances of counts. Negative binomial and beta-binomial as in N. L. Johnson, A. W. Kemp, S. Kotz, *Univariate Discrete
 * Distributions*, 3rd ed. (2005), chapters 5 and 6. Logarithm of the gamma function by Lanczos's approximation (C. Lanczos,
 * SIAM J. Numer. Anal. B 1 (1964) 86–96; g 7, nine terms), relative error below 1e−13 for positive arguments.
 */
const LANCZOS = [
  0.99999999999980993, 676.5203681218851, -1259.1392167224028, 771.32342877765313, -176.61502916214059,
  12.507343278686905, -0.13857109526572012, 9.9843695780195716e-6, 1.5056327351493116e-7,
];

export function logGamma(x: number): number {
  if (x < 0.5) return Math.log(Math.PI / Math.sin(Math.PI * x)) - logGamma(1 - x);
  const z = x - 1;
  const t = z + 7.5;
  const sum = LANCZOS.slice(1).reduce((total, term, i) => total + term / (z + i + 1), LANCZOS[0]!);
  return 0.5 * Math.log(2 * Math.PI) + (z + 0.5) * Math.log(t) - t + Math.log(sum);
}

/** Of k, with this mean and variance; Poisson where the variance is not greater. Mean above 0. */
export function negativeBinomial(k: number, mean: number, variance: number): number {
  if (variance <= mean * 1.000001) return Math.exp(k * Math.log(mean) - mean - logGamma(k + 1));
  const size = mean ** 2 / (variance - mean);
  const logChance =
    logGamma(k + size) -
    logGamma(size) -
    logGamma(k + 1) +
    size * Math.log(size / (size + mean)) +
    k * Math.log(mean / (size + mean));
  return Math.exp(logChance);
}

/** Of k out of n, each with this chance. 0 < chance < 1. */
export function binomial(k: number, n: number, chance: number): number {
  const logChoose = logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
  return Math.exp(logChoose + k * Math.log(chance) + (n - k) * Math.log(1 - chance));
}

/** Of k out of n, where each has this chance, believed as firmly as so many trials would make one. 0 < chance < 1. */
export function betaBinomial(k: number, n: number, chance: number, firmness: number): number {
  if (k < 0 || k > n) return 0;
  const a = chance * firmness;
  const b = (1 - chance) * firmness;
  const logBeta = (p: number, q: number): number => logGamma(p) + logGamma(q) - logGamma(p + q);
  const logChoose = logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
  return Math.exp(logChoose + logBeta(k + a, n - k + b) - logBeta(a, b));
}

/** The counts between which 95 % of the chances lie, 2.5 % at most to either side. Chances need not sum to 1. */
export function rangeOf(chances: readonly number[]): readonly [from: number, to: number] {
  const total = chances.reduce((sum, chance) => sum + chance, 0);
  if (!(total > 0)) return [0, Math.max(0, chances.length - 1)];
  let below = 0;
  let from = 0;
  let to = chances.length - 1;
  for (const [k, chance] of chances.entries()) {
    const next = below + chance / total;
    if (below <= 0.025) from = k;
    if (next >= 0.975) {
      to = k;
      break;
    }
    below = next;
  }
  return [from, to];
}
