/** What a picture is made of, as a short word. */
import { createHash } from 'node:crypto';
import type { PicturePlan } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';

/** The same for the same inputs; stands in a proof's name and in a final's words, so that what is there tells whether it is up to date. */
export function inputsOf(frameId: FrameId, plan: PicturePlan): string {
  return createHash('sha256')
    .update(JSON.stringify([frameId, plan]))
    .digest('hex')
    .slice(0, 16);
}
