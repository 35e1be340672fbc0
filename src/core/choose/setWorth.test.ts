import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { madeRider } from '../../../tools/accuracy/keepers/smallRiders.js';
import type { Rider } from '../arrange/types.js';
import type { Offer } from './offers.js';
import { riderSet } from './riderSet.js';
import { roomBeside } from './room.js';
import { FACETS, FIRSTS, GrowingSet } from './setWorth.js';
import { takeGreedily } from './takeGreedily.js';

const anyRider = fc.integer({ min: 1, max: 100_000 }).map((seed) => madeRider(seed));
const worthOf = (offers: readonly Offer[]): number => GrowingSet.of(offers).worth;
const NEAR = 1e-9;

describe('what a set is worth', () => {
  it('CH21: is the same in whatever order its frames came', () => {
    fc.assert(
      fc.property(anyRider, fc.infiniteStream(fc.nat()), ({ offers }, dice) => {
        const shuffled = offers
          .map((offer) => ({ offer, at: dice.next().value as number }))
          .sort((a, b) => a.at - b.at)
          .map(({ offer }) => offer);
        expect(worthOf(shuffled)).toBeCloseTo(worthOf(offers), 9);
      }),
    );
  });

  it('CH21: a frame never takes from it, and brings the less the more is there', () => {
    fc.assert(
      fc.property(anyRider, fc.nat(), fc.nat(), ({ offers }, few, more) => {
        const [one, ...others] = offers as [Offer, ...Offer[]];
        const large = others.filter((_, i) => (more >> i) % 2 === 1);
        const small = large.filter((_, i) => (few >> i) % 2 === 1);
        const [toSmall, toLarge] = [small, large].map((set) => GrowingSet.of(set).gainOf(one)) as [number, number];
        expect(toLarge).toBeGreaterThanOrEqual(-NEAR);
        expect(toSmall).toBeGreaterThanOrEqual(toLarge - NEAR);
        expect(toLarge).toBeCloseTo(worthOf([...large, one]) - worthOf(large), 9);
      }),
    );
  });

  it('CH4, CH21: by hand: three frames of one spot, the best whole, the second half of its spot’s share, the third a quarter', () => {
    const [{ offers }] = [madeRider(1)];
    const only = (worth: number): Offer => ({
      ...offers[0]!,
      quality: { ...offers[0]!.quality, worth },
      classes: [0, 1, 2, 3, 4, 5],
      firsts: [{ what: 'spot', key: 'spot:here', counts: FIRSTS.spot }],
    });
    const by = (facet: keyof typeof FACETS) => {
      const { share, again } = FACETS[facet];
      return share * (0.9 + 0.6 * again + 0.4 * again ** 2);
    };
    const expected = by('spot') + by('view') + by('session') + by('side') + by('shutter') + by('set') + FIRSTS.spot;
    expect(worthOf([only(0.4), only(0.9), only(0.6)])).toBeCloseTo(expected, 9);
    expect(Object.values(FACETS).reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });
});

/** Every gain asked anew each time. */
function takePlainly(offers: readonly Offer[], limits: Parameters<typeof roomBeside>[1]): readonly Offer[] {
  const [set, room, taken] = [new GrowingSet(), roomBeside([], limits), [] as Offer[]];
  for (;;) {
    const open = offers.filter((offer) => !taken.includes(offer) && room.mayTake(offer));
    const most = Math.max(...open.map((offer) => set.gainOf(offer)));
    const best = open.find((offer) => set.gainOf(offer) === most);
    if (best === undefined) return taken;
    taken.push(best);
    set.add(best);
    room.take(best);
  }
}

describe('taking greedily', () => {
  it('CH27: asking only the first ones again takes the very same frames in the same order', () => {
    fc.assert(
      fc.property(anyRider, ({ offers, limits }) => {
        const taken: Offer[] = [];
        takeGreedily(new GrowingSet(), roomBeside([], limits), offers, ({ offer }) => taken.push(offer));
        expect(taken).toEqual(takePlainly(offers, limits));
      }),
      { numRuns: 300 },
    );
  });

  it('CH3, CH5: what is taken keeps to every limit, and nothing that still had room is left', () => {
    fc.assert(
      fc.property(anyRider, ({ offers, limits }) => {
        const rules = { ...limits, mostInAll: null, leastPerRider: 0 };
        const { taken } = riderSet({ key: 'r' } as unknown as Rider, offers, new Map(), rules);
        const room = roomBeside([], limits);
        for (const { offer } of taken) {
          expect(room.mayTake(offer)).toBe(true);
          room.take(offer);
        }
        for (const offer of offers) expect(room.mayTake(offer)).toBe(false);
      }),
    );
  });
});
