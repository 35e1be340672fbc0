/**
 * Passes that look better with another rider go there: merging best first never takes back a step, so a pass that came
 * early to the wrong rider stays with it. Whole sightings first, then single passes; each move must gain clearly.
 */

import type { Cluster } from './clusters.js';
import { mergeBestFirst } from './merge.js';
import type { RiderModel } from './riderModel.js';
import { ownTie, rivalOf } from './ties.js';

/** A move must gain so many nats, or passes would go to and fro. */
const LEAST_GAIN = 1;
const MOST_ROUNDS = 2;
/** In nats: on simulated days nothing moved that holds better than this to its own. */
const HOLDS = 8;

export function refineClusters(model: RiderModel, found: readonly Cluster[]): readonly Cluster[] {
  let clusters = [...found];
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const moved = moveWeakParts(model, clusters);
    if (moved === 0) break;
    clusters = [
      ...mergeBestFirst(
        model,
        clusters.filter(({ passes }) => passes.length > 0),
      ),
    ];
  }
  return clusters;
}

/** Changes `clusters` in place; riders that lose everything are left empty. */
function moveWeakParts(model: RiderModel, clusters: Cluster[]): number {
  let moved = 0;
  for (let c = 0; c < clusters.length; c++) {
    if (clusters[c]!.passes.length < 2) continue;
    for (const { passes } of clusters[c]!.sightings.values()) {
      if (passes.length > 1 && moveIfBetter(passes, c, model, clusters)) moved++;
      else for (const p of passes) if (moveIfBetter([p], c, model, clusters)) moved++;
    }
  }
  return moved;
}

function moveIfBetter(part: readonly number[], at: number, model: RiderModel, clusters: Cluster[]): boolean {
  const own = ownTie(part, clusters[at]!, model);
  if (own === null || own >= HOLDS) return false;
  const rival = rivalOf(part, at, clusters, model, Math.max(0, own + LEAST_GAIN));
  if (rival.rider < 0 && exchangeIfBetter(part, at, own, model, clusters)) return true;
  if (rival.rider < 0 && own > -LEAST_GAIN) return false;
  clusters[at] = model.without(clusters[at]!, part);
  if (rival.rider >= 0) clusters[rival.rider] = model.join(clusters[rival.rider]!, model.cluster(part));
  else clusters.push(model.cluster(part));
  return true;
}

/** Two riders who have each other's pictures of one session: neither lets in what is its own while it holds the other's. */
function exchangeIfBetter(
  part: readonly number[],
  at: number,
  own: number,
  model: RiderModel,
  clusters: Cluster[],
): boolean {
  const place = placeOfPart(part, clusters[at]!);
  const mine = model.cluster(part);
  const left = model.without(clusters[at]!, part);
  let gain = LEAST_GAIN;
  let change: readonly [index: number, keeps: Cluster, gets: Cluster] | null = null;
  clusters.forEach((other, c) => {
    const theirs = other.sightings.get(place)?.passes;
    if (c === at || theirs === undefined || theirs.length === other.passes.length) return;
    const rest = model.without(other, theirs);
    const toThem = model.logOdds(mine, rest, own);
    if (toThem <= own) return;
    const given = model.cluster(theirs);
    const better = toThem - own + model.logOdds(given, left, own - toThem) - model.tie(other, theirs);
    if (better <= gain) return;
    gain = better;
    change = [c, rest, given];
  });
  if (change === null) return false;
  const [c, rest, given] = change as readonly [number, Cluster, Cluster];
  clusters[at] = model.join(left, given);
  clusters[c] = model.join(rest, mine);
  return true;
}

function placeOfPart(part: readonly number[], { sightings }: Cluster): number {
  for (const [place, { passes }] of sightings) if (passes.includes(part[0]!)) return place;
  throw new Error(`Expected pass ${part[0]} among those of its rider, but it is in none of its sightings.`);
}
