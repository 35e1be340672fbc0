/**
 * Stored judgements and the bikes they are of. A judgement names its bike by the box that measuring gave it; a newer measuring
 * may give the bike another place among the frame's subjects, and a slightly other box.
 */
import type { FrameId } from '../ids.js';
import type { Box, FrameMeasurement, Subject } from '../measure/types.js';
import type { BikeJudgement, Judged } from './types.js';
import { JUDGE_VERSION } from './version.js';

/** Two boxes that share less of what they cover together are two bikes: riders beside each other share half at most. */
const SAME = 0.8;

export function isSameBike(a: Box, b: Box): boolean {
  const across = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const down = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  if (across <= 0 || down <= 0) return false;
  const both = across * down;
  return both >= SAME * (a[2] * a[3] + b[2] * b[3] - both);
}

/** Of this judge's version; an older one's is not held against a newer one's. */
export const judgementOf = (
  { box }: Pick<Subject, 'box'>,
  judgements: readonly BikeJudgement[] | undefined,
): BikeJudgement | undefined => judgements?.find((one) => one.v === JUDGE_VERSION && isSameBike(one.box, box));

/** By `<frame>:<place among its subjects>`. */
export function judgedByBike(
  judgements: ReadonlyMap<FrameId, readonly BikeJudgement[]>,
  pixels: ReadonlyMap<FrameId, FrameMeasurement>,
): ReadonlyMap<string, Judged> {
  const judged = new Map<string, Judged>();
  for (const [frame, ofFrame] of judgements) {
    const measured = pixels.get(frame);
    if (measured?.kind !== 'measured') continue;
    for (const [index, subject] of measured.subjects.entries()) {
      const judgement = judgementOf(subject, ofFrame);
      if (judgement?.kind === 'judged') judged.set(`${frame}:${index}`, judgement.judged);
    }
  }
  return judged;
}
