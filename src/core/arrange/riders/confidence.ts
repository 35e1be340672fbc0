/**
 * The chance that a pass is its rider's: a logistic curve over how well its sighting holds to the rest of the rider, and
 * how far the likeliest other rider stands behind.
 */
import type { Cluster, RiderModel } from './riderModel.js';
import { CLEAR_LEAD, FIRM, ownTie, rivalOf } from './ties.js';

/**
 * Fitted on simulated days (seeds 1, 5 and 6, two strengths of descriptor, two sizes of hire fleet; 27,000 passes):
 * log-odds = intercept + lead × nats of lead + sighting × nats of tie.
 */
const CURVE = { intercept: -0.985, lead: 0.857, sighting: 0.206, leastLead: -2, mostSighting: 13 } as const;
/**
 * Below it a pass is in nobody's set; of the passes above it five in a thousand may be wrong. The curve is too careful on
 * days harder than those it was fitted on (on simulated days with black bikes and surplus boxes, passes given 0.7 were
 * right in 94 of 100), so the line stands lower than the share that is meant.
 */
export const CONFIDENCE_LINE = 0.7;

export interface PassTie {
  /** Log-odds with the rest of its rider of all its passes of that session and spot; null where there is no rest. */
  readonly sighting: number | null;
  /** By so many nats it leads the likeliest other rider, at most {@link CLEAR_LEAD}. */
  readonly lead: number;
  /** Index in `clusters` of that other rider, −1 where none comes near. */
  readonly rival: number;
}

/** Per pass, in the numbering of the field. */
export function tiesOf(model: RiderModel, clusters: readonly Cluster[], passCount: number): readonly PassTie[] {
  const ties = new Array<PassTie>(passCount);
  clusters.forEach((cluster, c) => {
    for (const { passes: list } of cluster.sightings.values()) {
      const together = tieOf(list, c, clusters, model);
      // Pass by pass costs as much as all the rest of arranging; it is worth it only where another rider comes near.
      const isPlain = together.sighting !== null && (together.sighting >= FIRM || together.lead >= CLEAR_LEAD);
      for (const p of list)
        ties[p] = list.length === 1 || isPlain ? together : weaker(tieOf([p], c, clusters, model), together);
    }
  });
  return ties;
}

/** 0–1; null where the pass is the rider's only one: nothing speaks for or against it. */
export function confidenceOf({ sighting, lead }: PassTie): number | null {
  if (sighting === null) return null;
  const { intercept, lead: perLead, sighting: perSighting, leastLead, mostSighting } = CURVE;
  const held = Math.max(0, Math.min(mostSighting, sighting));
  const ahead = Math.max(leastLead, Math.min(CLEAR_LEAD, lead));
  return 1 / (1 + Math.exp(-(intercept + perLead * ahead + perSighting * held)));
}

export function isBelowLine(tie: PassTie | undefined): boolean {
  const confidence = tie === undefined ? null : confidenceOf(tie);
  return confidence !== null && confidence < CONFIDENCE_LINE;
}

function tieOf(part: readonly number[], at: number, clusters: readonly Cluster[], model: RiderModel): PassTie {
  const sighting = ownTie(part, clusters[at]!, model);
  if (sighting === null || sighting >= FIRM) return { sighting, lead: CLEAR_LEAD, rival: -1 };
  const rival = rivalOf(part, at, clusters, model, sighting - CLEAR_LEAD);
  return { sighting, lead: sighting - rival.odds, rival: rival.rider };
}

function weaker(one: PassTie, together: PassTie): PassTie {
  const { lead, rival } = together.lead < one.lead || one.sighting === null ? together : one;
  return { sighting: together.sighting ?? one.sighting, lead, rival };
}
