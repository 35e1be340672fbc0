/**
 * The limit over all riders: first, everybody's sets up to the least, one frame a rider after the other; then what gains most.
 * A greedy set's gains never grow, so what is cut off is always the end of a rider's proposals. Rule CH22.
 */
import type { RiderSet } from './riderSet.js';
import type { ChooseRules } from './types.js';

export function limitInAll(sets: readonly RiderSet[], { mostInAll, leastPerRider }: ChooseRules): readonly RiderSet[] {
  if (mostInAll === null) return sets;
  const proposed = sets.flatMap(({ taken }, rider) => {
    // Rounding must not make a later one seem more than the one before.
    let gain = Number.POSITIVE_INFINITY;
    return taken.flatMap(({ keeper, isFirm }, place) => {
      if (isFirm) return [];
      gain = Math.min(gain, keeper.worth);
      return [{ rider, place, gain }];
    });
  });
  const firm = sets.reduce((sum, { taken }) => sum + taken.length, 0) - proposed.length;
  const turnOf = (place: number): number => Math.min(place, leastPerRider);
  const stay = proposed
    .sort((a, b) => turnOf(a.place) - turnOf(b.place) || b.gain - a.gain || a.rider - b.rider || a.place - b.place)
    .slice(0, Math.max(0, mostInAll - firm));
  const places = new Set(stay.map(({ rider, place }) => `${rider} ${place}`));
  return sets.map((set, rider) => ({
    ...set,
    taken: set.taken.filter(({ isFirm }, place) => isFirm || places.has(`${rider} ${place}`)),
  }));
}
