/** What a proof is made of, as a short word. */
import { createHash } from 'node:crypto';
import type { ProofPlan } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';

/** The same for the same inputs; part of the proof's file name, so that what is there is what is up to date. */
export function inputsOf(frameId: FrameId, plan: ProofPlan): string {
  return createHash('sha256')
    .update(JSON.stringify([frameId, plan]))
    .digest('hex')
    .slice(0, 16);
}
