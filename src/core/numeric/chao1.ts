/**
 * How many kinds there are, from how often each was met: Chao1 with its log-normal interval.
 *
 * Sources: A. Chao, "Nonparametric estimation of the number of classes in a population", Scandinavian Journal of
 * Statistics 11 (1984) 265–270; A. Chao, "Estimating the population size for capture-recapture data with unequal
 * catchability", Biometrics 43 (1987) 783–791 (variance, log-normal interval); A. Chao, C.-H. Chiu, "Species richness:
 * estimation and comparison", Wiley StatsRef (2016), for (n−1)/n and for f2 = 0. Counts may be sums of weights, where it
 * is not sure that two kinds are two: then an extension of ours, not of the papers. It is a lower bound where kinds
 * differ in how often they are met. Valid from a handful of meetings on.
 */
export interface Chao1 {
  readonly seen: number;
  /** Estimated number of kinds never met, f0. */
  readonly unseen: number;
  /** Variance of the estimate. */
  readonly variance: number;
  /** All kinds, 95 %: seen + from … seen + to. */
  readonly from: number;
  readonly to: number;
}

/** Of the standard normal, 97.5 %. */
const Z_95 = 1.959964;

/** A kind met so often; its weight is the chance that it is a kind of its own, 1 where absent. */
export interface Met {
  readonly times: number;
  readonly weight?: number;
}

/** Kinds met 0 times count for nothing. */
export function chao1(kinds: readonly Met[]): Chao1 {
  const met = kinds.filter(({ times }) => times > 0);
  const seen = sumOf(met, () => true);
  const f1 = sumOf(met, ({ times }) => times === 1);
  const f2 = sumOf(met, ({ times }) => times === 2);
  const n = met.reduce((sum, { times, weight = 1 }) => sum + times * weight, 0);
  const a = n === 0 ? 0 : (n - 1) / n;
  const { unseen, variance } = f2 >= 1 ? classic(f1, f2, a) : biasCorrected(f1, f2, seen, a);
  return { seen, unseen, variance, ...interval(unseen, variance, seen) };
}

const sumOf = (met: readonly Met[], which: (kind: Met) => boolean): number =>
  met.filter(which).reduce((sum, { weight = 1 }) => sum + weight, 0);

/** Chao 1987, eq. 11 and 12, with (n−1)/n. */
function classic(f1: number, f2: number, a: number) {
  const r = f1 / f2;
  return {
    unseen: (a * f1 * f1) / (2 * f2),
    variance: f2 * ((a / 2) * r ** 2 + a ** 2 * r ** 3 + (a ** 2 / 4) * r ** 4),
  };
}

/** Chao and Chiu 2016, for f2 = 0; between 0 and 1, where weights are summed, their bias-corrected form. */
function biasCorrected(f1: number, f2: number, seen: number, a: number) {
  const unseen = (a * f1 * Math.max(0, f1 - 1)) / (2 * (f2 + 1));
  const correction = seen + unseen === 0 ? 0 : (a ** 2 * f1 ** 4) / (4 * (seen + unseen));
  const variance = Math.max(0, unseen + (a ** 2 * f1 * (2 * f1 - 1) ** 2) / 4 - correction);
  return { unseen, variance };
}

/** Log-normal in the number unseen, so that it never falls below what was seen (Chao 1987, section 4). */
function interval(unseen: number, variance: number, seen: number): Pick<Chao1, 'from' | 'to'> {
  if (unseen <= 0) return { from: seen, to: seen };
  const factor = Math.exp(Z_95 * Math.sqrt(Math.log(1 + variance / unseen ** 2)));
  return { from: seen + unseen / factor, to: seen + unseen * factor };
}
