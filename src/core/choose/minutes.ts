/**
 * "I have twenty minutes": which sets are worth looking at, when the rest shall stand as proposed. Rule CH26.
 *
 * A look is worth what a choice gains when the program's guess of a frame's worth is put right: with guesses that scatter normally,
 * the loss integral of how far the second lies behind (the expected value of perfect information; H. Raiffa & R. Schlaifer, Applied
 * Statistical Decision Theory, 1961, chapter 5). Whose set is below the least comes before all others; then most gain in a second.
 */
import type { RiderKey } from '../ids.js';
import { normalLoss } from '../numeric/normal.js';
import type { RiderSets } from './chooseKeepers.js';
import { type GoneThrough, isBelow, picturesOf } from './goThrough.js';
import type { Offer } from './offers.js';
import type { RiderSet } from './riderSet.js';
import { secondsAPicture } from './timeLeft.js';
import type { ChooseRules, MinutesPlan } from './types.js';

/** How far a person's own worth of a frame scatters about the program's; own convention, of a worth of 0–1. */
const SCATTER = { good: 0.12, soft: 0.2, unsure: 0.25, cut: 0.15 } as const;
/** A frame worth less to the person is better left out; own convention. */
const SHOWN_FROM = 0.3;
/** Until the person's own pace is known; own convention. */
const USUAL_S_A_PICTURE = 1.5;

export function planMinutes(
  { left, answers }: GoneThrough,
  { rules, setOf }: Pick<RiderSets, 'rules' | 'setOf'>,
  minutes: number,
): MinutesPlan {
  const measured = secondsAPicture(answers);
  const pace = measured ?? USUAL_S_A_PICTURE;
  const riders = left.map((one) => {
    const seconds = pace * picturesOf(one);
    const set = setOf(one.rider.key);
    const gain = set === null ? 0 : gainOfLook(set, rules);
    return { key: one.rider.key, seconds, perSecond: gain / seconds, isBelow: isBelow(one, rules) };
  });
  const byGain = [...riders].sort((a, b) => Number(b.isBelow) - Number(a.isBelow) || b.perSecond - a.perSecond);
  const look = new Set<RiderKey>();
  let spent = 0;
  for (const { key, seconds } of byGain) {
    if (spent + seconds > minutes * 60) continue;
    look.add(key);
    spent += seconds;
  }
  return {
    look: [...look],
    asProposed: riders.flatMap(({ key }) => (look.has(key) ? [] : [key])),
    seconds: spent,
    pace: measured === null ? 'usual' : 'of the answers',
  };
}

function gainOfLook({ taken, offers, wordOn }: RiderSet, { leastPerRider }: ChooseRules): number {
  const standing = new Set(taken.map(({ offer }) => offer));
  const free = offers.filter((offer) => !standing.has(offer) && wordOn(offer) === undefined);
  const proposed = taken.filter(({ keeper }) => keeper.source === 'proposed');
  const better = proposed.map(({ offer }) => {
    const rival = bestOf(free.filter(({ pass }) => pass === offer.pass));
    return Math.max(outAgain(offer), rival === null ? 0 : exchanged(offer, rival));
  });
  const missing = Math.max(0, leastPerRider - taken.length);
  const added = [...free]
    .sort((a, b) => b.quality.worth - a.quality.worth)
    .slice(0, missing)
    .map(addedAfterAll);
  return [...better, ...added].reduce((sum, gain) => sum + gain, 0);
}

const bestOf = (offers: readonly Offer[]): Offer | null =>
  offers.reduce<Offer | null>(
    (best, one) => (best === null || one.quality.worth > best.quality.worth ? one : best),
    null,
  );

const scatterOf = ({ quality }: Offer): number => SCATTER[quality.judgement.kind];

function exchanged(a: Offer, b: Offer): number {
  const scatter = Math.hypot(scatterOf(a), scatterOf(b));
  return scatter * normalLoss((a.quality.worth - b.quality.worth) / scatter);
}
const outAgain = (offer: Offer): number =>
  scatterOf(offer) * normalLoss((offer.quality.worth - SHOWN_FROM) / scatterOf(offer));
const addedAfterAll = (offer: Offer): number =>
  scatterOf(offer) * normalLoss((SHOWN_FROM - offer.quality.worth) / scatterOf(offer));
