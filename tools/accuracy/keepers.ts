/**
 * How near the greedy keepers come to the best set there is, rider by rider, with the best one from HiGHS; and whether they ever
 * fall short of what is proved of them. Once as they are chosen, once without what counts a single time (the number, a spot), which
 * both easily have and which would flatter.
 */
import type { Rider } from '../../src/core/arrange/types.js';
import type { Offer } from '../../src/core/choose/offers.js';
import { riderSet } from '../../src/core/choose/riderSet.js';
import { GrowingSet } from '../../src/core/choose/setWorth.js';
import { type Highs, startHighs } from '../../src/host/plan/solver/highs.js';
import type { Figures } from '../figures.js';
import { exactSet, type Limits } from './keepers/exactSet.js';
import { type KnownBound, knownBound } from './keepers/knownBound.js';
import { cutSmall, madeRider, type SmallRider, simulatedRiders } from './keepers/smallRiders.js';

const RIDERS_A_GROUP = 32;
const SIMULATED = 90;
const MADE = 90;
const WHOLE = 8;
const SAME = 1e-6;

export async function keepersAccuracy(): Promise<{ readonly rows: readonly string[]; readonly figures: Figures }> {
  const highs = await startHighs();
  const day = simulatedRiders(RIDERS_A_GROUP, 21);
  const riders = [
    ...day.flatMap((rider, i) => cutSmall(rider, i) ?? []).slice(0, SIMULATED),
    ...Array.from({ length: MADE }, (_, i) => madeRider(1000 + i)),
  ];
  const wholeDays = day
    .filter(({ offers }) => offers.length > 0)
    .slice(0, WHOLE)
    .map((rider) => compare(highs, rider));
  const whole = riders.map((rider) => compare(highs, rider));
  const plain = riders.map((rider) => compare(highs, { ...rider, offers: rider.offers.map(withoutFirsts) }));
  const below = [...whole, ...plain, ...wholeDays].filter(({ ratio, bound }) => ratio < bound.share - SAME);
  const above = [...whole, ...plain, ...wholeDays].filter(({ ratio }) => ratio > 1 + SAME);
  return {
    rows: [
      `${riders.length} riders of ${Math.min(...whole.map(({ frames }) => frames))} to ${Math.max(...whole.map(({ frames }) => frames))} frames, the best sets from HiGHS`,
      wordsOf('as they are chosen', whole),
      wordsOf('without what counts once', plain),
      wordsOf(
        `${WHOLE} riders with their whole day, ${Math.max(...wholeDays.map(({ frames }) => frames))} good frames at most`,
        wholeDays,
      ),
      `below what is proved: ${below.length}; better than the best, which would be an error here: ${above.length}`,
    ],
    figures: {
      'keepers.greedyToOptimum': {
        value: mean(whole),
        unit: 'of the best set’s worth',
        better: 'higher',
        note: `mean of ${riders.length} riders, at least ${least(whole).toFixed(3)}; without what counts once ${mean(plain).toFixed(4)}, at least ${least(plain).toFixed(3)}`,
      },
      'keepers.belowBound': {
        value: below.length + above.length,
        unit: `of ${2 * riders.length + WHOLE} sets`,
        better: 'lower',
      },
    },
  };
}

interface Compared {
  readonly ratio: number;
  readonly frames: number;
  readonly bound: KnownBound;
}

function compare(highs: Highs, { offers, limits }: SmallRider): Compared {
  const greedy = worthOf(greedySet(offers, limits));
  const best = worthOf(exactSet(highs, offers, limits));
  return { ratio: best > 0 ? greedy / best : 1, frames: offers.length, bound: knownBound(offers, limits) };
}

const worthOf = (offers: readonly Offer[]): number => GrowingSet.of(offers).worth;

const withoutFirsts = (offer: Offer): Offer => ({ ...offer, firsts: [] });

const NOBODY = { key: 'r' } as unknown as Rider;

const greedySet = (offers: readonly Offer[], limits: Limits): readonly Offer[] =>
  riderSet(NOBODY, offers, new Map(), { ...limits, mostInAll: null, leastPerRider: 0 }).taken.map(({ offer }) => offer);

const least = (all: readonly Compared[]): number => Math.min(...all.map(({ ratio }) => ratio));
const mean = (all: readonly Compared[]): number => all.reduce((sum, { ratio }) => sum + ratio, 0) / all.length;

function wordsOf(name: string, all: readonly Compared[]): string {
  const kinds = (['number alone', 'matroid', '2-extendible'] as const).flatMap((limits) => {
    const own = all.filter(({ bound }) => bound.limits === limits);
    return own.length === 0
      ? []
      : [
          `${limits} (at least ${own[0]!.bound.share.toFixed(3)} proved): ${own.length}, worst ${least(own).toFixed(3)}`,
        ];
  });
  const best = all.filter(({ ratio }) => ratio >= 1 - SAME).length;
  return `${name}: ${mean(all).toFixed(4)} of the best on average, ${best} are the best; ${kinds.join('; ')}`;
}
