/**
 * Which minted rider a found rider is. Ids live for ever: files a person named outrank the majority of the points at
 * which the id was minted; where several ids come to lie on one rider, one is shown and the others are its aliases.
 */
import type { RiderId, RiderKey } from '../../ids.js';
import type { BikePoint } from '../../log/types.js';
import type { RiderDecision } from '../decisions.js';

export interface Identity {
  readonly id: RiderId | null;
  readonly aliases: readonly RiderId[];
  readonly number: string | null;
  /** Of the race in which that is its number, where somebody said. */
  readonly numberClass: string | null;
  /** The number said before, of another of its bikes: one of the two is not its own. */
  readonly otherNumber: string | null;
  /** What the rider was known by when it was minted; null where nobody wrote it down. */
  readonly shownAs: RiderKey | null;
}

const NOBODY: Identity = {
  id: null,
  aliases: [],
  number: null,
  numberClass: null,
  otherNumber: null,
  shownAs: null,
};

/** @param riderAt the found rider a point lies on, null for files not known here. */
export function identify(
  decisions: readonly RiderDecision[],
  riderAt: (point: BikePoint) => number | null,
): (rider: number) => Identity {
  const claims = claimsOf(decisions, riderAt);
  const numbers = numbersOf(decisions, riderAt);
  const shownAs = new Map<RiderId, RiderKey>();
  for (const decision of decisions) {
    if (decision.kind !== 'rider-minted' || decision.shownAs === undefined) continue;
    if (!shownAs.has(decision.rider)) shownAs.set(decision.rider, decision.shownAs);
  }
  const idsOf = new Map<number, Claim[]>();
  for (const claim of claims) {
    const list = idsOf.get(claim.rider);
    if (list === undefined) idsOf.set(claim.rider, [claim]);
    else list.push(claim);
  }
  return (rider) => {
    const ids = [...(idsOf.get(rider) ?? [])].sort(
      (a, b) => b.named - a.named || b.anchors - a.anchors || a.first - b.first,
    );
    if (ids.length === 0) return { ...NOBODY, ...numbers.get(rider) };
    return {
      ...NOBODY,
      ...numbers.get(rider),
      id: ids[0]!.id,
      aliases: ids.slice(1).map(({ id }) => id),
      shownAs: shownAs.get(ids[0]!.id) ?? null,
    };
  };
}

type SaidNumber = Pick<Identity, 'number' | 'numberClass' | 'otherNumber'>;

/** The last word counts; said twice in a row it settles what was said before. */
function numbersOf(
  decisions: readonly RiderDecision[],
  riderAt: (point: BikePoint) => number | null,
): ReadonlyMap<number, SaidNumber> {
  const numbers = new Map<number, SaidNumber>();
  for (const decision of decisions) {
    if (decision.kind !== 'rider-is' || decision.number === undefined) continue;
    const rider = riderAt(decision.point);
    if (rider === null) continue;
    const { number } = decision;
    const before = numbers.get(rider)?.number ?? number;
    const otherNumber = before === number ? null : before;
    numbers.set(rider, { number, numberClass: decision.class ?? null, otherNumber });
  }
  return numbers;
}

interface Claim {
  readonly id: RiderId;
  readonly rider: number;
  readonly named: number;
  readonly anchors: number;
  /** Place of the first decision that speaks of this id. */
  readonly first: number;
}

/** Each id claims the rider with most of its named points, else of its anchors. */
function claimsOf(decisions: readonly RiderDecision[], riderAt: (point: BikePoint) => number | null): readonly Claim[] {
  const votes = new Map<RiderId, { first: number; named: Map<number, number>; anchors: Map<number, number> }>();
  const vote = (id: RiderId, at: number, point: BikePoint, kind: 'named' | 'anchors'): void => {
    const own = votes.get(id) ?? { first: at, named: new Map(), anchors: new Map() };
    votes.set(id, own);
    const rider = riderAt(point);
    if (rider !== null) own[kind].set(rider, (own[kind].get(rider) ?? 0) + 1);
  };
  for (const [at, decision] of decisions.entries()) {
    if (decision.kind === 'rider-is' && decision.rider !== undefined) vote(decision.rider, at, decision.point, 'named');
    if (decision.kind === 'rider-minted')
      for (const point of decision.points) vote(decision.rider, at, point, 'anchors');
  }
  return [...votes].flatMap(([id, { first, named, anchors }]) => {
    const rider = mostVoted(named.size > 0 ? named : anchors);
    if (rider === null) return [];
    return [{ id, rider, named: named.get(rider) ?? 0, anchors: anchors.get(rider) ?? 0, first }];
  });
}

function mostVoted(votes: ReadonlyMap<number, number>): number | null {
  let best: number | null = null;
  for (const [rider, count] of votes) if (best === null || count > votes.get(best)!) best = rider;
  return best;
}
