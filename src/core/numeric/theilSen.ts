/**
 * The slope of values against time that single strays cannot bend: the median of the slopes between all pairs of points.
 *
 * Sources: P. K. Sen, "Estimates of the regression coefficient based on Kendall's tau", J. Am. Stat. Assoc. 63 (1968) 1379: median and
 * interval by ranks; R. M. Hirsch, J. R. Slack, R. A. Smith, "Techniques of trend analysis for monthly water quality data", Water Resour.
 * Res. 18 (1982) 107: pairs only within one stratum, variances of S added up; variance of S with ties: M. G. Kendall, "Rank correlation
 * methods". The interval is the one for large samples, its ranks rounded outwards; points of a stratum have to be independent.
 */
export interface TrendPoint {
  readonly x: number;
  readonly y: number;
}

export interface Trend {
  /** Of y for one of x. */
  readonly slope: number;
  readonly from: number;
  readonly to: number;
  readonly points: number;
}

const Z_95 = 1.959964;
/** Pairs grow with the square: beyond this, points are taken evenly. */
const MOST_POINTS = 240;

/** Null where no two points of a stratum differ in x. `z`: half the width of the interval in standard deviations; 95 of 100. */
export function theilSen(strata: readonly (readonly TrendPoint[])[], z = Z_95): Trend | null {
  const used = strata.map(thinned).filter((points) => points.length >= 2);
  const slopes = Float64Array.from(used.flatMap(slopesOf)).sort();
  if (slopes.length === 0) return null;
  const count = slopes.length;
  const reach = z * Math.sqrt(used.reduce((sum, points) => sum + varianceOfS(points), 0));
  const lowest = Math.max(0, Math.floor((count - reach) / 2) - 1);
  const highest = Math.min(count - 1, Math.ceil((count + reach) / 2));
  return {
    slope: (slopes[(count - 1) >> 1]! + slopes[count >> 1]!) / 2,
    from: slopes[lowest]!,
    to: slopes[highest]!,
    points: used.reduce((sum, points) => sum + points.length, 0),
  };
}

const thinned = (points: readonly TrendPoint[]): readonly TrendPoint[] =>
  points.length <= MOST_POINTS
    ? points
    : Array.from({ length: MOST_POINTS }, (_, at) => points[Math.floor((at * points.length) / MOST_POINTS)]!);

const slopesOf = (points: readonly TrendPoint[]): readonly number[] =>
  points.flatMap((one, at) =>
    points.slice(at + 1).flatMap((other) => (one.x === other.x ? [] : [(other.y - one.y) / (other.x - one.x)])),
  );

/** Kendall's variance of the count of rising less falling pairs, ties in either counted. */
function varianceOfS(points: readonly TrendPoint[]): number {
  const n = points.length;
  const ties = [tiesOf(points.map(({ x }) => x)), tiesOf(points.map(({ y }) => y))] as const;
  const sum = (of: readonly number[], term: (t: number) => number) => of.reduce((all, t) => all + term(t), 0);
  const both = (term: (t: number) => number) => sum(ties[0], term) * sum(ties[1], term);
  const main = n * (n - 1) * (2 * n + 5) - sum([...ties[0], ...ties[1]], (t) => t * (t - 1) * (2 * t + 5));
  const triples = n < 3 ? 0 : both((t) => t * (t - 1) * (t - 2)) / (9 * n * (n - 1) * (n - 2));
  return main / 18 + triples + both((t) => t * (t - 1)) / (2 * n * (n - 1));
}

function tiesOf(values: readonly number[]): readonly number[] {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts.values()];
}
