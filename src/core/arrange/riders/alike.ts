/**
 * Riders on bikes that look the same: a hire fleet's, or twins. What tells one rider from all others is set against what
 * tells the two apart; where that is little, they are told apart by helmet, leathers and laps alone.
 */
import type { Cluster } from './clusters.js';
import type { RiderModel } from './riderModel.js';

/**
 * Looks against two being one, as a share of what sets the less known of them off from the field. On simulated days
 * (seeds 1 and 2 of three settings) one pair in a thousand of different bikes lay above it, and three of four pairs of one
 * hire fleet.
 */
const LEAST_SET_APART = 0.5;
/** Fewer passes do not show what a bike looks like. */
const LEAST_PASSES = 6;

/** Per cluster the indices of those that look like it. */
export function findAlike(clusters: readonly Cluster[], model: RiderModel): readonly (readonly number[])[] {
  const alike: number[][] = clusters.map(() => []);
  clusters.forEach((second, b) => {
    if (second.passes.length < LEAST_PASSES) return;
    for (let a = 0; a < b; a++) {
      const first = clusters[a]!;
      if (first.passes.length < LEAST_PASSES) continue;
      const known = Math.min(first.identity, second.identity);
      const looks = model.looksOdds(first, second);
      // What looks more like one rider than two is a question, not a twin.
      if (known <= 0 || looks > 0 || looks < -LEAST_SET_APART * known) continue;
      alike[a]!.push(b);
      alike[b]!.push(a);
    }
  });
  return alike;
}
