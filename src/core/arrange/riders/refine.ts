/**
 * Passes that look better with another rider go there: merging best first never takes back a step, so a pass that came
 * early to the wrong rider stays with it. Whole sightings first, then single passes; each move must gain clearly.
 */
import { mergeBestFirst } from './merge.js';
import type { Cluster, RiderModel } from './riderModel.js';
import { FIRM, ownTie, rivalOf } from './ties.js';

/** A move must gain so many nats, or passes would go to and fro. */
const LEAST_GAIN = 1;
const MOST_ROUNDS = 2;

export function refineClusters(model: RiderModel, found: readonly Cluster[]): readonly Cluster[] {
  let clusters = [...found];
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const moved = moveWeakParts(model, clusters);
    if (moved === 0) break;
    clusters = [
      ...mergeBestFirst(
        model,
        clusters.filter(({ passes }) => passes.length > 0).map(({ passes }) => passes),
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
    for (const list of model.byPlace(clusters[c]!.passes).values()) {
      if (list.length > 1 && moveIfBetter(list, c, model, clusters)) moved++;
      else for (const p of list) if (moveIfBetter([p], c, model, clusters)) moved++;
    }
  }
  return moved;
}

function moveIfBetter(part: readonly number[], at: number, model: RiderModel, clusters: Cluster[]): boolean {
  const own = ownTie(part, clusters[at]!, model);
  if (own === null || own >= FIRM) return false;
  const rival = rivalOf(part, at, clusters, model, Math.max(0, own + LEAST_GAIN));
  if (rival.rider < 0 && own > -LEAST_GAIN) return false;
  const gone = new Set(part);
  clusters[at] = model.cluster(clusters[at]!.passes.filter((p) => !gone.has(p)));
  if (rival.rider >= 0) clusters[rival.rider] = model.cluster([...clusters[rival.rider]!.passes, ...part]);
  else clusters.push(model.cluster(part));
  return true;
}
