/** Best-first merging of clusters by log-odds, until no pair is more likely one rider than two. */
import type { Cluster } from './clusters.js';
import type { RiderModel } from './riderModel.js';

/** Pairs below this are not looked at again. */
const FLOOR = -4;
/** Each cluster remembers its likeliest partners only; the right one is hardly ever further down. */
const MOST_PARTNERS = 32;

export function mergeBestFirst(model: RiderModel, starts: readonly Cluster[]): readonly Cluster[] {
  const clusters: (Cluster | null)[] = [...starts];
  const n = clusters.length;
  const odds = Array.from({ length: n }, () => new Map<number, number>());
  const best = new Int32Array(n).fill(-1);
  const bestOdds = new Float64Array(n).fill(Number.NEGATIVE_INFINITY);
  const link = (a: number, b: number): void => {
    const value = model.logOdds(clusters[a]!, clusters[b]!, FLOOR);
    if (value <= FLOOR) {
      odds[a]!.delete(b);
      odds[b]!.delete(a);
      return;
    }
    odds[a]!.set(b, value);
    odds[b]!.set(a, value);
  };
  const findBest = (a: number): void => {
    let top = -1;
    let value = Number.NEGATIVE_INFINITY;
    for (const [b, other] of odds[a]!)
      if (other > value || (other === value && b < top)) {
        top = b;
        value = other;
      }
    best[a] = top;
    bestOdds[a] = value;
  };
  for (let a = 0; a < n; a++)
    for (let b = 0; b < a; b++) {
      const value = model.logOdds(clusters[a]!, clusters[b]!, FLOOR);
      if (value <= FLOOR) continue;
      odds[a]!.set(b, value);
      odds[b]!.set(a, value);
    }
  for (const row of keepLikeliest(odds)) for (const [a, b] of row) odds[a]!.delete(b);
  for (let a = 0; a < n; a++) findBest(a);
  for (;;) {
    let a = -1;
    for (let i = 0; i < n; i++)
      if (clusters[i] !== null && bestOdds[i]! > 0 && (a === -1 || bestOdds[i]! > bestOdds[a]!)) a = i;
    if (a === -1) break;
    const b = best[a]!;
    const keep = Math.min(a, b);
    const gone = Math.max(a, b);
    clusters[keep] = model.join(clusters[keep]!, clusters[gone]!);
    clusters[gone] = null;
    const near = new Set([...odds[keep]!.keys(), ...odds[gone]!.keys()]);
    near.delete(keep);
    near.delete(gone);
    for (const c of odds[gone]!.keys()) odds[c]!.delete(gone);
    odds[gone]!.clear();
    bestOdds[gone] = Number.NEGATIVE_INFINITY;
    for (const c of near) link(keep, c);
    for (const c of leastLikely(odds[keep]!)) {
      odds[keep]!.delete(c);
      odds[c]!.delete(keep);
    }
    findBest(keep);
    for (const c of near) findBest(c);
  }
  return clusters.filter((cluster) => cluster !== null);
}

/** Pairs that are among the likeliest of neither side. */
function keepLikeliest(
  odds: readonly ReadonlyMap<number, number>[],
): readonly (readonly (readonly [number, number])[])[] {
  const least = odds.map((row) => {
    if (row.size <= MOST_PARTNERS) return Number.NEGATIVE_INFINITY;
    return [...row.values()].sort((a, b) => b - a)[MOST_PARTNERS - 1]!;
  });
  return odds.map((row, a) =>
    [...row].flatMap(([b, value]) => (value < least[a]! && value < least[b]! ? [[a, b] as const] : [])),
  );
}

/** Partners beyond the likeliest few. */
function leastLikely(row: ReadonlyMap<number, number>): readonly number[] {
  if (row.size <= MOST_PARTNERS) return [];
  return [...row]
    .sort((a, b) => b[1] - a[1] || a[0] - b[0])
    .slice(MOST_PARTNERS)
    .map(([c]) => c);
}
