/**
 * The chance that a pass is its rider's: a logistic curve over how well its sighting holds to the rest of the rider, and
 * how far the likeliest other rider stands behind.
 */
import type { Cluster } from './clusters.js';
import type { RiderModel } from './riderModel.js';
import { CLEAR_LEAD, FIRM, ownTie, rivalOf } from './ties.js';

/**
 * Fitted on simulated days (seeds 1–3 of two strengths of descriptor and two sizes of hire fleet; 18,000 passes):
 * log-odds = intercept + lead × nats of lead + sighting × nats of tie + alike where another bike looks the same. However well a
 * pass holds there, helmet and leathers alone tell it apart: of 1,200 sightings that held by 13 nats and more among bikes that
 * look the same (fleets of seeds 1–7) one in a hundred was wrong, though the curve said five in a thousand.
 */
const CURVE = {
  intercept: -0.46,
  lead: 0.5,
  sighting: 0.29,
  alike: -2.4,
  leastLead: -2,
  mostSighting: 20,
  mostSightingAlike: 15,
} as const;
/** Below it a pass is in nobody's set; of the passes above it five in a thousand may be wrong. */
export const CONFIDENCE_LINE = 0.9;

/** In nats: among bikes that look the same a sighting may hold so well and yet fit another rider. */
const FIRM_AMONG_ALIKE = 20;

export interface PassTie {
  /** Log-odds with the rest of its rider of all its passes of that session and spot; null where there is no rest. */
  readonly sighting: number | null;
  /** By so many nats it leads the likeliest other rider, at most {@link CLEAR_LEAD}. */
  readonly lead: number;
  /** Index in `clusters` of that other rider, −1 where none comes near. */
  readonly rival: number;
  /** Its rider's bike looks like another's: a whole sighting may be that one's and hold well all the same. */
  readonly isAlike: boolean;
  /** How far the day shows what one bike looks like twice, 0–1: no pass is surer. */
  readonly repeats: number;
}

/** Per pass, in the numbering of the field. */
export function tiesOf(
  model: RiderModel,
  clusters: readonly Cluster[],
  alike: readonly (readonly number[])[],
  passCount: number,
  repeats: number,
): readonly PassTie[] {
  const ties = new Array<PassTie>(passCount);
  clusters.forEach((cluster, c) => {
    for (const { passes: list } of cluster.sightings.values()) {
      const isAlike = alike[c]!.length > 0;
      const firm = isAlike ? FIRM_AMONG_ALIKE : FIRM;
      const together = { ...tieOf(list, c, clusters, model, firm), isAlike, repeats };
      // Pass by pass costs as much as all the rest of arranging; it is worth it only where another rider comes near.
      const isPlain = together.sighting !== null && (together.sighting >= firm || together.lead >= CLEAR_LEAD);
      for (const p of list)
        ties[p] =
          list.length === 1 || isPlain
            ? together
            : weaker({ ...tieOf([p], c, clusters, model, firm), isAlike, repeats }, together);
    }
  });
  return ties;
}

/** 0–1; null where the pass is the rider's only one: nothing speaks for or against it. */
export function confidenceOf({ sighting, lead, isAlike, repeats }: PassTie): number | null {
  if (sighting === null) return null;
  const { intercept, lead: perLead, sighting: perSighting, alike, leastLead } = CURVE;
  const held = Math.max(0, Math.min(isAlike ? CURVE.mostSightingAlike : CURVE.mostSighting, sighting));
  const ahead = Math.max(leastLead, Math.min(CLEAR_LEAD, lead));
  return repeats / (1 + Math.exp(-(intercept + perLead * ahead + perSighting * held + (isAlike ? alike : 0))));
}

export function isBelowLine(tie: PassTie | undefined): boolean {
  const confidence = tie === undefined ? null : confidenceOf(tie);
  return confidence !== null && confidence < CONFIDENCE_LINE;
}

function tieOf(
  part: readonly number[],
  at: number,
  clusters: readonly Cluster[],
  model: RiderModel,
  firm: number,
): Omit<PassTie, 'isAlike' | 'repeats'> {
  const sighting = ownTie(part, clusters[at]!, model);
  if (sighting === null || sighting >= firm) return { sighting, lead: CLEAR_LEAD, rival: -1 };
  const rival = rivalOf(part, at, clusters, model, sighting - CLEAR_LEAD);
  return { sighting, lead: sighting - rival.odds, rival: rival.rider };
}

function weaker(one: PassTie, together: PassTie): PassTie {
  const { lead, rival } = together.lead < one.lead || one.sighting === null ? together : one;
  return { ...together, sighting: together.sighting ?? one.sighting, lead, rival };
}
