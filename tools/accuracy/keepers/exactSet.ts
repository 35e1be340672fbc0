/**
 * The set of a rider that is worth most, as a whole programme for HiGHS: nothing of the greedy one is used but what a set is
 * worth and what it may hold.
 *
 * In a class of a facet the place in the order of quality is given out: a frame takes one place at most, a place one frame. As
 * weights fall from place to place and the sum is to be as large as can be, the best frame takes the first place by itself.
 */
import type { Offer } from '../../../src/core/choose/offers.js';
import { looksAlike } from '../../../src/core/choose/room.js';
import { FACET_NAMES, FACETS } from '../../../src/core/choose/setWorth.js';
import type { ChooseRules } from '../../../src/core/choose/types.js';
import { LpText } from '../../../src/core/plan/day/lpText.js';
import { type Highs, runModel } from '../../../src/host/plan/solver/highs.js';

export type Limits = Pick<ChooseRules, 'mostPerRider' | 'mostPerSpot'>;

export function exactSet(highs: Highs, offers: readonly Offer[], limits: Limits): readonly Offer[] {
  const answer = runModel(highs, modelOf(offers, limits), { gap: 0, timeLimitS: 60 });
  if (answer.kind !== 'solution')
    throw new Error(`Expected a best set of ${offers.length} frames but the solver said ${answer.kind}.`);
  return offers.filter((_, i) => answer.valueFor(`x${i}`) > 0.5);
}

function modelOf(offers: readonly Offer[], limits: Limits): string {
  const lp = new LpText();
  for (const i of offers.keys()) {
    lp.between(`x${i}`, 0, 1);
    lp.whole(`x${i}`);
  }
  classes(lp, offers, limits);
  firsts(lp, offers);
  rooms(lp, offers, limits);
  return lp.toString();
}

function classes(lp: LpText, offers: readonly Offer[], { mostPerRider }: Limits): void {
  for (const [f, facet] of FACET_NAMES.entries()) {
    const { share, again } = FACETS[facet];
    for (const own of groups(offers, ({ classes: all }) => all[f]!)) {
      const places = Array.from({ length: Math.min(own.length, mostPerRider) }, (_, place) => place);
      const name = (i: number, place: number): string => `y${f}_${i}_${place}`;
      for (const i of own) {
        for (const place of places) {
          lp.between(name(i, place), 0, 1);
          lp.worth(share * again ** place * offers[i]!.quality.worth, name(i, place));
        }
        lp.row([...places.map((place) => [1, name(i, place)] as const), [-1, `x${i}`]], '<=', 0);
      }
      for (const place of places)
        lp.row(
          own.map((i) => [1, name(i, place)]),
          '<=',
          1,
        );
    }
  }
}

function firsts(lp: LpText, offers: readonly Offer[]): void {
  const shown = new Map<string, { readonly counts: number; readonly by: number[] }>();
  for (const [i, offer] of offers.entries())
    for (const { key, counts } of offer.firsts) {
      const known = shown.get(key) ?? { counts, by: [] };
      known.by.push(i);
      shown.set(key, known);
    }
  for (const [n, { counts, by }] of [...shown.values()].entries()) {
    lp.between(`z${n}`, 0, 1);
    lp.worth(counts, `z${n}`);
    lp.row([[1, `z${n}`], ...by.map((i) => [-1, `x${i}`] as const)], '<=', 0);
  }
}

function rooms(lp: LpText, offers: readonly Offer[], { mostPerRider, mostPerSpot }: Limits): void {
  const row = (some: readonly number[], most: number): void =>
    lp.row(
      some.map((i) => [1, `x${i}`]),
      '<=',
      most,
    );
  row([...offers.keys()], mostPerRider);
  for (const own of groups(offers, ({ pass }) => pass.spot))
    if (offers[own[0]!]!.pass.spot !== null) row(own, mostPerSpot);
  for (const [i, one] of offers.entries())
    for (const [j, other] of offers.entries()) if (i < j && areRivals(one, other)) row([i, j], 1);
}

/** Not both of them in one set. */
export const areRivals = (one: Offer, other: Offer): boolean =>
  one.bike.frameId === other.bike.frameId || (one.pass.index === other.pass.index && looksAlike(one, other));

function groups(offers: readonly Offer[], keyOf: (offer: Offer) => unknown): readonly (readonly number[])[] {
  const found = new Map<unknown, number[]>();
  for (const [i, offer] of offers.entries()) {
    const key = keyOf(offer);
    const own = found.get(key);
    if (own === undefined) found.set(key, [i]);
    else own.push(i);
  }
  return [...found.values()];
}
