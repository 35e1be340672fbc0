/** One rider's set: what a person kept or let stand, and beside it what is proposed. Rules CH1, CH6, CH24. */
import type { Rider } from '../arrange/types.js';
import { bikeKeyOf } from '../cover/index.js';
import type { Offer } from './offers.js';
import { reasonsFor } from './reasons.js';
import { endlessRoom, roomBeside } from './room.js';
import { GrowingSet } from './setWorth.js';
import { takeGreedily, type Waiting } from './takeGreedily.js';
import type { ChooseRules, Keeper } from './types.js';
import type { Word } from './words.js';

export interface Taken {
  readonly offer: Offer;
  readonly keeper: Keeper;
  /** Kept, or let stand by a person: no limit takes it away. */
  readonly isFirm: boolean;
}

export interface RiderSet {
  readonly rider: Rider;
  /** All frames of the rider, in the day's order. */
  readonly offers: readonly Offer[];
  readonly wordOn: (offer: Offer) => Word | undefined;
  /** In the order they were taken: what a person kept, then what is proposed. */
  readonly taken: readonly Taken[];
}

export function riderSet(
  rider: Rider,
  offers: readonly Offer[],
  words: ReadonlyMap<string, Word>,
  rules: ChooseRules,
): RiderSet {
  const wordOn = ({ bike }: Offer) => (words.size === 0 ? undefined : words.get(bikeKeyOf(bike)));
  const taken: Taken[] = [];
  const set = new GrowingSet();
  const taking =
    (source: Keeper['source'], ...first: string[]) =>
    ({ offer, gain }: Waiting): void => {
      const reasons = [...first, ...reasonsFor(offer, set)];
      const keeper = { rider: rider.key, bike: offer.bike, reasons, worth: gain, source };
      taken.push({ offer, keeper, isFirm: wordOn(offer) !== undefined });
    };
  const said = (word: Word) => offers.filter((offer) => wordOn(offer) === word);
  const endless = endlessRoom();
  takeGreedily(set, endless, said('keep'), taking('kept-by-person', 'a person kept it'));
  takeGreedily(set, endless, said('let-stand'), taking('proposed', 'stood when the set was gone through'));
  const free = offers.filter((offer) => wordOn(offer) === undefined);
  const good = proposable(free);
  // A rider without one good frame still appears, once.
  const limits = good.length > 0 ? rules : { ...rules, mostPerRider: Math.min(1, rules.mostPerRider) };
  const room = roomBeside(
    taken.map(({ offer }) => offer),
    limits,
  );
  takeGreedily(set, room, good.length > 0 ? good : free, taking('proposed'));
  return { rider, offers, wordOn, taken };
}

/** Good frames, and of a frame with two bikes that pass for one rider the better one. `offers` are in the day's order. */
export function proposable(offers: readonly Offer[]): readonly Offer[] {
  const good: Offer[] = [];
  for (const offer of offers) {
    if (offer.quality.judgement.kind !== 'good') continue;
    const before = good.at(-1);
    if (before?.bike.frameId !== offer.bike.frameId) good.push(offer);
    else if (offer.quality.worth > before.quality.worth) good[good.length - 1] = offer;
  }
  return good;
}
