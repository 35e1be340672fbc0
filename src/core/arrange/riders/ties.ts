/**
 * How well passes of one rider hold together when they are looked at alone: the log-odds of a part against the rest of
 * its rider, and against the likeliest other rider. What merging decided early is looked at again with all that is
 * known at the end.
 */
import type { Cluster } from './clusters.js';
import type { RiderModel } from './riderModel.js';

/** In nats: a part that holds so well to the rest is not looked at again. */
export const FIRM = 13;
/** Another rider that is so much less likely, in nats, is no rival. */
export const CLEAR_LEAD = 6;

export interface Rival {
  /** Its index in `clusters`, −1 for none. */
  readonly rider: number;
  readonly odds: number;
}

/** Log-odds of the part being one with the rest of its rider; null where there is no rest. */
export function ownTie(part: readonly number[], cluster: Cluster, model: RiderModel): number | null {
  if (part.length === cluster.passes.length) return null;
  return model.tie(cluster, part);
}

/** The likeliest other rider of the part, where its odds are above `floor`. */
export function rivalOf(
  part: readonly number[],
  at: number,
  clusters: readonly Cluster[],
  model: RiderModel,
  floor: number,
): Rival {
  const own = model.cluster(part);
  let rider = -1;
  let best = floor;
  clusters.forEach((other, c) => {
    if (c === at || other.passes.length === 0) return;
    const odds = model.logOdds(own, other, best);
    if (odds <= best) return;
    best = odds;
    rider = c;
  });
  return { rider, odds: best };
}
