/** One rider's set with all that stands beside it: other frames of each pass, what was second, what could be added, what is lacking. */
import type { RiderCoverage } from '../cover/types.js';
import type { BikeSide } from '../plan/circuit/types.js';
import type { Offer } from './offers.js';
import { reasonsFor } from './reasons.js';
import { proposable, type RiderSet, type Taken } from './riderSet.js';
import { roomBeside } from './room.js';
import { GrowingSet } from './setWorth.js';
import type { ChooseRules, Lack, Other, Proposal, ProposedKeeper, Second } from './types.js';
import { whySecond } from './whySecond.js';

export function proposalOf(one: RiderSet, rules: ChooseRules, coverage: RiderCoverage | undefined): Proposal {
  const standing = one.taken.map(({ offer }) => offer);
  const shown = new Set(standing);
  const others = one.offers.filter((offer) => !shown.has(offer));
  return {
    rider: one.rider.key,
    keepers: one.taken.map((taken) => proposedKeeper(taken, one, others, rules)),
    isBelowLeast: standing.length < rules.leastPerRider,
    toAdd: toAdd(one, others, standing),
    leftOut: others.filter((offer) => one.wordOn(offer) === 'leave-out').map(({ bike }) => bike),
    lacks: lacksOf(one, standing, coverage),
  };
}

function proposedKeeper(
  { offer, keeper }: Taken,
  one: RiderSet,
  others: readonly Offer[],
  rules: ChooseRules,
): ProposedKeeper {
  const rest = one.taken.flatMap((taken) => (taken.offer === offer ? [] : [taken.offer]));
  const without = GrowingSet.of(rest);
  const ofPass = others.filter(({ pass, bike }) => pass === offer.pass && bike.frameId !== offer.bike.frameId);
  return {
    ...keeper,
    pass: offer.pass.index,
    judgement: offer.quality.judgement.kind,
    ofPass: bestFirst(ofPass.map((other) => otherOf(other, without, one))),
    second: secondTo(offer, rest, others, one, rules),
  };
}

/** Of what could be proposed and has room: what would be taken in its place. Soft ones only where nothing else would stand. */
function secondTo(
  offer: Offer,
  rest: readonly Offer[],
  others: readonly Offer[],
  one: RiderSet,
  rules: ChooseRules,
): Second | null {
  const without = GrowingSet.of(rest);
  const room = roomBeside(rest, rules);
  const free = others.filter((other) => one.wordOn(other) === undefined && other.bike.frameId !== offer.bike.frameId);
  const good = proposable(free);
  const open = (good.length > 0 || rest.length > 0 ? good : free).filter((other) => room.mayTake(other));
  const [best] = bestFirst(open.map((other) => otherOf(other, without, one)));
  const second = open.find(({ bike }) => bike === best?.bike);
  if (best === undefined || second === undefined) return null;
  return { ...best, loss: without.gainOf(offer) - best.worth, behind: whySecond(offer, second, without) };
}

const otherOf = (offer: Offer, set: GrowingSet, { wordOn }: RiderSet): Other => ({
  bike: offer.bike,
  pass: offer.pass.index,
  worth: set.gainOf(offer),
  reasons: reasonsFor(offer, set),
  judgement: offer.quality.judgement.kind,
  isLeftOut: wordOn(offer) === 'leave-out',
});

/** What a person left out comes last, what is not good before it. A stable sort: equal ones stay in the day's order. */
const bestFirst = (others: readonly Other[]): readonly Other[] =>
  [...others].sort((a, b) => rank(a) - rank(b) || b.worth - a.worth);

const rank = ({ isLeftOut, judgement }: Other): number => (isLeftOut ? 2 : judgement === 'good' ? 0 : 1);

/** The best of each pass that shows none in the set. */
function toAdd(one: RiderSet, others: readonly Offer[], standing: readonly Offer[]): readonly Other[] {
  const set = GrowingSet.of(standing);
  const shown = new Set(standing.map(({ pass }) => pass));
  const free = others.filter((other) => !shown.has(other.pass) && one.wordOn(other) === undefined);
  const passes = new Set<number>();
  return bestFirst(free.map((other) => otherOf(other, set, one))).filter(({ pass }) => {
    if (passes.has(pass)) return false;
    passes.add(pass);
    return true;
  });
}

function lacksOf({ rider, offers }: RiderSet, standing: readonly Offer[], coverage?: RiderCoverage): readonly Lack[] {
  const seen = standing.map((offer) => offer.seen);
  const shownSpots = new Set(standing.map(({ pass }) => pass.spot));
  const spots = (coverage?.wheel ?? [])
    .filter(({ spot, state }) => state !== 'to-come' && !shownSpots.has(spot))
    .map(({ spot }): Lack => ({ kind: 'spot', spot, frames: framesFrom(offers, spot) }));
  const sides: readonly BikeSide[] = seen.some(({ side }) => side === 'left' || side === 'right')
    ? ['left', 'right']
    : [];
  const shutters = seen.some(({ shutter }) => shutter !== 'unknown') ? (['sure', 'slow'] as const) : [];
  return [
    ...(rider.number !== null && !seen.some(({ number }) => number !== null)
      ? [{ kind: 'number', number: rider.number } as const]
      : []),
    ...spots,
    ...sides.filter((side) => !seen.some((one) => one.side === side)).map((side) => ({ kind: 'side', side }) as const),
    ...shutters
      .filter((shutter) => !seen.some((one) => one.shutter === shutter))
      .map((is) => ({ kind: 'shutter', is }) as const),
  ];
}

const framesFrom = (offers: readonly Offer[], spot: string): number =>
  new Set(offers.filter(({ pass }) => pass.spot === spot).map(({ bike }) => bike.frameId)).size;
