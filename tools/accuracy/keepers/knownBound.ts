/** How near to the best set a greedy one is for certain, by what limits it; sources in `src/core/choose/takeGreedily.ts`. */
import type { Offer } from '../../../src/core/choose/offers.js';
import { areRivals, type Limits } from './exactSet.js';

export interface KnownBound {
  readonly share: number;
  readonly limits: 'number alone' | 'matroid' | '2-extendible';
}

export function knownBound(offers: readonly Offer[], { mostPerSpot }: Limits): KnownBound {
  const rivals = offers.map((one) => offers.filter((other) => other !== one && areRivals(one, other)));
  const fullSpots = offers.some(
    ({ pass }) => pass.spot !== null && offers.filter((other) => other.pass.spot === pass.spot).length > mostPerSpot,
  );
  if (!fullSpots && rivals.every((own) => own.length === 0)) return { share: 1 - 1 / Math.E, limits: 'number alone' };
  // Rivals of one frame are rivals of each other: at most one of each such set.
  const areSets = rivals.every((own) => own.every((a) => own.every((b) => a === b || areRivals(a, b))));
  return areSets ? { share: 1 / 2, limits: 'matroid' } : { share: 1 / 3, limits: '2-extendible' };
}
