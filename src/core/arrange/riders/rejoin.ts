/**
 * Riders kept in two by a pass or two of somebody else: a wrong pass that came early forbids all right ones of its lap. Where
 * two riders are one but for a few passes, those step out of it, and merging then finds whose they are.
 */

import type { Cluster } from './clusters.js';
import type { Field } from './field.js';
import { mergeBestFirst } from './merge.js';
import type { RiderModel } from './riderModel.js';

/** Of the smaller rider's passes, so many may stand against its being the other. */
const MOST_AGAINST = 0.25;
/** In nats of the model of looks: pairs that speak more against are not looked at. */
const LEAST_LOOKS = -60;

export function rejoinRiders(model: RiderModel, field: Field, found: readonly Cluster[]): readonly Cluster[] {
  const clusters = [...found];
  const aside: Cluster[] = [];
  const candidates = pairsKeptApart(model, clusters);
  for (const [a, b] of candidates) {
    const [first, second] = [clusters[a]!, clusters[b]!];
    const [small, large] = first.passes.length <= second.passes.length ? [first, second] : [second, first];
    if (small.passes.length === 0) continue;
    const against = passesAgainst(small, large, field);
    if (against === null) continue;
    const left = model.without(against.from, against.passes);
    const other = against.from === small ? large : small;
    if (model.logOdds(left, other, 0) <= 0) continue;
    clusters[a] = model.join(left, other);
    clusters[b] = model.cluster([]);
    aside.push(...against.passes.map((p) => model.cluster([p])));
  }
  if (aside.length === 0) return found;
  return mergeBestFirst(model, [...clusters.filter(({ passes }) => passes.length > 0), ...aside]);
}

/** Pairs whose looks say that they are one though some of their passes cannot be, likeliest first. */
function pairsKeptApart(model: RiderModel, clusters: readonly Cluster[]): readonly (readonly [number, number])[] {
  const pairs: { readonly a: number; readonly b: number; readonly looks: number }[] = [];
  clusters.forEach((second, b) => {
    for (let a = 0; a < b; a++) {
      const first = clusters[a]!;
      if (Math.min(first.passes.length, second.passes.length) < 1 / MOST_AGAINST) continue;
      const looks = model.looksOdds(first, second);
      if (looks > LEAST_LOOKS) pairs.push({ a, b, looks });
    }
  });
  return pairs.sort((one, other) => other.looks - one.looks || one.b - other.b).map(({ a, b }) => [a, b]);
}

interface Against {
  readonly from: Cluster;
  readonly passes: readonly number[];
}

/** The fewest passes of one of the two that stand against the other; null where they are too many, or none. */
function passesAgainst(small: Cluster, large: Cluster, field: Field): Against | null {
  const ofSmall = new Set<number>();
  const ofLarge = new Set<number>();
  for (const [session, { passes }] of small.visits)
    for (const p of passes)
      for (const q of large.visits.get(session)?.passes ?? [])
        if (field.cannotBeOne(p, q)) {
          ofSmall.add(p);
          ofLarge.add(q);
        }
  const [from, passes] = ofSmall.size <= ofLarge.size ? [small, ofSmall] : [large, ofLarge];
  const most = MOST_AGAINST * small.passes.length;
  return passes.size === 0 || passes.size > most ? null : { from, passes: [...passes] };
}
