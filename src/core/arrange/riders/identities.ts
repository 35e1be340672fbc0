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
  /** What the rider was known by when it was minted; null where nobody wrote it down. */
  readonly shownAs: RiderKey | null;
}

const NOBODY: Identity = { id: null, aliases: [], number: null, shownAs: null };

/** @param riderAt the found rider a point lies on, null for files not known here. */
export function identify(
  decisions: readonly RiderDecision[],
  riderAt: (point: BikePoint) => number | null,
): (rider: number) => Identity {
  const claims = claimsOf(decisions, riderAt);
  const numbers = new Map<number, string>();
  for (const decision of decisions) {
    if (decision.kind !== 'rider-is' || decision.number === undefined) continue;
    const rider = riderAt(decision.point);
    if (rider !== null) numbers.set(rider, decision.number);
  }
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
    if (ids.length === 0) return { ...NOBODY, number: numbers.get(rider) ?? null };
    return {
      id: ids[0]!.id,
      aliases: ids.slice(1).map(({ id }) => id),
      number: numbers.get(rider) ?? null,
      shownAs: shownAs.get(ids[0]!.id) ?? null,
    };
  };
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
