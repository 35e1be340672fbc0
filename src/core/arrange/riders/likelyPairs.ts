/**
 * Pairs of found riders that may be one, with the chance of it. Merging stops where a pair is not more likely one than two by
 * careful odds; among what is left, pairs of some size just below that line are mostly one rider in two pieces.
 */
import type { Clustering } from './clusterPasses.js';
import type { Cluster } from './clusters.js';
import type { Field } from './field.js';
import type { RiderModel } from './riderModel.js';

export interface LikelyPair {
  /** Indices in `clusters`, `a` before `b`. */
  readonly a: number;
  readonly b: number;
  /** 0–1. */
  readonly chance: number;
}

/**
 * Log-odds = intercept + odds × nats of the model + lead × nats before the smaller one's next likely + size × ln passes of the
 * smaller. Fitted by `tools/accuracy/fitLikelyPairs.ts` on simulated days (seeds 1–7, two strengths of descriptor, two sizes of
 * hire fleet) and a rendered one (seed 211); 3,900 pairs, 56 of them one rider.
 */
const CURVE = { intercept: -1.84, odds: 0.38, lead: 0.055, mostLead: 6, size: 0.84 } as const;
/** In nats: on those days no pair below it was one rider. */
const LEAST_ODDS = -17;
/** Of the smaller one's passes, so many may stand against its being the other: a wrong pass or two forbid a right pair. */
const MOST_AGAINST = 0.25;

const remembered = new WeakMap<Clustering, readonly LikelyPair[]>();

/** Depends on the day as found alone, so it is worked out once for all answers that follow. */
export function likelyPairs(clustering: Clustering, field: Field): readonly LikelyPair[] {
  const before = remembered.get(clustering);
  if (before !== undefined) return before;
  const pairs = pairsOf(clustering, field);
  remembered.set(clustering, pairs);
  return pairs;
}

const pairsOf = (clustering: Clustering, field: Field): readonly LikelyPair[] =>
  pairClues(clustering, field).map(({ a, b, ...clues }) => ({ a, b, chance: chanceOf(clues) }));

/** What the chance of a pair is read off. */
export interface PairClues {
  readonly a: number;
  readonly b: number;
  /** In nats of the model. */
  readonly odds: number;
  /** So many nats before the smaller one's next likely, within bounds. */
  readonly lead: number;
  /** Natural logarithm of the smaller one's passes. */
  readonly size: number;
}

export function pairClues({ clusters, model }: Clustering, field: Field): readonly PairClues[] {
  if (model === null) return [];
  const pairs: { readonly a: number; readonly b: number; readonly odds: number }[] = [];
  clusters.forEach((second, b) => {
    for (let a = 0; a < b; a++) {
      const odds = oddsOf(clusters[a]!, second, model, field);
      if (odds >= LEAST_ODDS) pairs.push({ a, b, odds });
    }
  });
  const likeliest = likeliestTwo(pairs, clusters.length);
  return pairs.map(({ a, b, odds }) => {
    const isFirstSmaller = clusters[a]!.passes.length <= clusters[b]!.passes.length;
    const [first, second] = likeliest[isFirstSmaller ? a : b]!;
    const lead = odds - (first === odds ? second : first);
    const size = Math.log(clusters[isFirstSmaller ? a : b]!.passes.length);
    return { a, b, odds, lead: Math.max(-CURVE.mostLead, Math.min(CURVE.mostLead, lead)), size };
  });
}

const chanceOf = ({ odds, lead, size }: Omit<PairClues, 'a' | 'b'>): number =>
  1 / (1 + Math.exp(-(CURVE.intercept + CURVE.odds * odds + CURVE.lead * lead + CURVE.size * size)));

/** Per cluster the odds of its two likeliest others, −∞ where there are none. */
function likeliestTwo(
  pairs: readonly { readonly a: number; readonly b: number; readonly odds: number }[],
  count: number,
): readonly (readonly [number, number])[] {
  const two: [number, number][] = Array.from({ length: count }, () => [
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ]);
  for (const { a, b, odds } of pairs)
    for (const own of [two[a]!, two[b]!]) {
      if (odds > own[0]) own.splice(0, 2, odds, own[0]);
      else if (odds > own[1]) own[1] = odds;
    }
  return two;
}

/** Where passes forbid that the two are one, without them, as long as they are few. */
function oddsOf(a: Cluster, b: Cluster, model: RiderModel, field: Field): number {
  const odds = model.logOdds(a, b, LEAST_ODDS);
  if (odds !== Number.NEGATIVE_INFINITY) return odds;
  const [small, large] = a.passes.length <= b.passes.length ? [a, b] : [b, a];
  const most = Math.floor(MOST_AGAINST * small.passes.length);
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
  const from = ofSmall.size <= ofLarge.size ? 'small' : 'large';
  const passes = [...(from === 'small' ? ofSmall : ofLarge)];
  return passes.length === 0 || passes.length > most ? null : { from, passes };
}
