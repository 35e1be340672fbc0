/** The best sets from HiGHS are the best of all sets, and greedy ones never fall short of what is proved of them. */
import { describe, expect, it } from 'vitest';
import type { Offer } from '../../../src/core/choose/offers.js';
import { roomBeside } from '../../../src/core/choose/room.js';
import { GrowingSet } from '../../../src/core/choose/setWorth.js';
import { takeGreedily } from '../../../src/core/choose/takeGreedily.js';
import { startHighs } from '../../../src/host/plan/solver/highs.js';
import { exactSet } from './exactSet.js';
import { knownBound } from './knownBound.js';
import { madeRider, type SmallRider } from './smallRiders.js';

const highs = await startHighs();
const worthOf = (offers: readonly Offer[]): number => GrowingSet.of(offers).worth;

/** All sets that keep to the limits, one by one. */
function bestOfAll({ offers, limits }: SmallRider): number {
  let best = 0;
  const grow = (from: number, set: readonly Offer[]): void => {
    best = Math.max(best, worthOf(set));
    const room = roomBeside(set, limits);
    for (let i = from; i < offers.length; i += 1) if (room.mayTake(offers[i]!)) grow(i + 1, [...set, offers[i]!]);
  };
  grow(0, []);
  return best;
}

function greedy({ offers, limits }: SmallRider): number {
  const set = new GrowingSet();
  takeGreedily(set, roomBeside([], limits), offers, () => {});
  return set.worth;
}

const few = Array.from({ length: 60 }, (_, i) => madeRider(1 + i)).filter(({ offers }) => offers.length <= 10);

describe('the best set of a rider', () => {
  it('CH27: HiGHS finds what going through all sets finds', () => {
    expect(few.length).toBeGreaterThan(25);
    for (const rider of few.slice(0, 25)) {
      const best = exactSet(highs, rider.offers, rider.limits);
      const room = roomBeside([], rider.limits);
      for (const offer of best) {
        expect(room.mayTake(offer), rider.name).toBe(true);
        room.take(offer);
      }
      expect(worthOf(best), rider.name).toBeCloseTo(bestOfAll(rider), 6);
    }
  });

  it('CH27: a greedy set is never below its bound: 1 − 1/e by number alone, 1/2 by matroid, 1/3 where a pass shows two', () => {
    const met = new Set<string>();
    for (let seed = 1; seed <= 400; seed += 1) {
      const rider = madeRider(seed);
      if (rider.offers.length > 9) continue;
      const { share, limits } = knownBound(rider.offers, rider.limits);
      met.add(limits);
      expect(greedy(rider), rider.name).toBeGreaterThanOrEqual(share * bestOfAll(rider) - 1e-9);
    }
    expect([...met].sort()).toEqual(['2-extendible', 'matroid', 'number alone']);
  });
});
