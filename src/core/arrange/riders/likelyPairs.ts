/**
 * Pairs of found riders that may be one, with the chance of it. Merging stops where a pair is not more likely one than two by
 * careful odds; what is left is looked at from the smaller of the two: is it a piece of somebody at all, and if so, of whom?
 * So all that a piece may belong to share one chance, and a piece of a pass or two, which is hardly ever a whole rider, has
 * somebody likeliest even where the odds against everybody are long.
 */

import { meanSize } from './attendance.js';
import type { Clustering } from './clusterPasses.js';
import type { Cluster } from './clusters.js';
import type { Field } from './field.js';
import type { RiderModel } from './riderModel.js';

export interface LikelyPair {
  /** Index in `clusters` of the one with fewer passes. */
  readonly small: number;
  readonly large: number;
  /** That the small one is a piece of the large one, 0–1: of one small one they add up to 1 at most. */
  readonly chance: number;
}

/**
 * Log-odds of being a piece = `piece` + `size` × ln of its share of a rider's passes in the mean + `best` × nats of the likeliest.
 * Whose: e to the `odds` × nats before the likeliest, and `nobody` for none of them. Fitted by `tools/accuracy/fitLikelyPairs.ts`
 * on simulated days (seeds 1–7, two strengths of descriptor, two sizes of hire fleet) and a rendered one (seed 211).
 */
const CURVE = { piece: 1.19, size: -1.21, best: 0.51, odds: 0.38, nobody: -0.45 } as const;
/** In nats: on those days no piece fitted its rider less. */
const LEAST_ODDS = -17;
/** Chances below this are nobody's second thought. */
const LEAST_CHANCE = 0.003;
/**
 * Passes of the smaller one that may stand against its being the other: a wrong one forbids a right pair, and the frames of one
 * burst that were not known for one pass stand closer than a lap.
 */
const MOST_AGAINST = { share: 0.25, passes: 2 } as const;

const remembered = new WeakMap<Clustering, readonly LikelyPair[]>();

/** Depends on the day as found alone, so it is worked out once for all answers that follow. */
export function likelyPairs(clustering: Clustering, field: Field): readonly LikelyPair[] {
  const before = remembered.get(clustering);
  if (before !== undefined) return before;
  const pairs = pieceClues(clustering, field).flatMap(chancesOf);
  remembered.set(clustering, pairs);
  return pairs;
}

/** What is known of one that may be a piece. */
export interface PieceClues {
  readonly small: number;
  /** Natural logarithm of its share of what a rider has of passes in the mean. */
  readonly size: number;
  /** Whom it may belong to, with nats of the model. */
  readonly others: readonly { readonly large: number; readonly odds: number }[];
}

export function pieceClues({ clusters, model }: Clustering, field: Field): readonly PieceClues[] {
  if (model === null) return [];
  const usual = meanSize(clusters.map(({ passes }) => passes));
  return clusters.flatMap((cluster, small) => {
    const others = clusters.flatMap((other, large) => {
      if (!isSmaller(small, large, clusters)) return [];
      const odds = oddsOf(cluster, other, model, field);
      return odds >= LEAST_ODDS ? [{ large, odds }] : [];
    });
    return others.length === 0 ? [] : [{ small, size: Math.log(cluster.passes.length / usual), others }];
  });
}

/** Of equals the later. */
function isSmaller(one: number, other: number, clusters: readonly Cluster[]): boolean {
  const more = clusters[other]!.passes.length - clusters[one]!.passes.length;
  return more > 0 || (more === 0 && other < one);
}

function chancesOf({ small, size, others }: PieceClues): readonly LikelyPair[] {
  const best = others.reduce((most, { odds }) => Math.max(most, odds), Number.NEGATIVE_INFINITY);
  const isPiece = 1 / (1 + Math.exp(-(CURVE.piece + CURVE.size * size + CURVE.best * best)));
  const shares = others.map(({ odds }) => Math.exp(CURVE.odds * (odds - best)));
  const all = shares.reduce((sum, share) => sum + share, Math.exp(CURVE.nobody));
  return others.flatMap(({ large }, i) => {
    const chance = (isPiece * shares[i]!) / all;
    return chance < LEAST_CHANCE ? [] : [{ small, large, chance }];
  });
}

/** Where passes forbid that the two are one, without them, as long as they are few. */
function oddsOf(small: Cluster, large: Cluster, model: RiderModel, field: Field): number {
  const odds = model.logOdds(small, large, LEAST_ODDS);
  if (odds !== Number.NEGATIVE_INFINITY) return odds;
  const most = Math.max(MOST_AGAINST.passes, Math.floor(MOST_AGAINST.share * small.passes.length));
  const against = passesAgainst(small, large, field, most);
  if (against === null) return Number.NEGATIVE_INFINITY;
  const left = model.without(against.from === 'small' ? small : large, against.passes);
  return model.logOdds(left, against.from === 'small' ? large : small, LEAST_ODDS);
}

interface Against {
  readonly from: 'small' | 'large';
  readonly passes: readonly number[];
}

/** The fewest passes of one of the two that stand against the other; null for more than `most` of both. */
function passesAgainst(small: Cluster, large: Cluster, field: Field, most: number): Against | null {
  const ofSmall = new Set<number>();
  const ofLarge = new Set<number>();
  for (const [session, visit] of small.visits)
    for (const p of visit.passes)
      for (const q of large.visits.get(session)?.passes ?? [])
        if (field.cannotBeOne(p, q)) {
          ofSmall.add(p);
          ofLarge.add(q);
          if (ofSmall.size > most && ofLarge.size > most) return null;
        }
  // Something has to be left of the one that they are taken from.
  const isSmallLeft = ofSmall.size < small.passes.length;
  const from = isSmallLeft && ofSmall.size <= ofLarge.size ? 'small' : 'large';
  const passes = [...(from === 'small' ? ofSmall : ofLarge)];
  const isLeft = from === 'small' ? isSmallLeft : passes.length < large.passes.length;
  return passes.length === 0 || passes.length > most || !isLeft ? null : { from, passes };
}
