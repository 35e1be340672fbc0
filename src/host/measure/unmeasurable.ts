/** Answers for files that no measurer of this version can read: remembered, so that they are not tried for ever. */

import type { FrameId } from '../../core/ids.js';
import { JUDGE_VERSION } from '../../core/judge/index.js';
import type { BikeJudgement } from '../../core/judge/types.js';
import type { FrameMeasured, FrameUnmeasurable } from '../../core/measure/types.js';
import { METADATA_VERSION, PIXELS_VERSION } from '../../core/measure/versions.js';
import type { LookAnswer, LookJob, MeasureAnswer, MeasureJob } from './types.js';

export const unmeasurable = (frameId: FrameId, tier: FrameMeasured['tier'], reason: string): FrameUnmeasurable => ({
  kind: 'unmeasurable',
  v: PIXELS_VERSION,
  frameId,
  tier,
  reason,
});

/** For a job whose child died twice, the second time with the machine to itself. `why`: "took too long and was stopped". */
export const unreadableAnswer = (job: MeasureJob, why: string): MeasureAnswer => {
  const sentence = `Expected a picture that can be read, but twice the measurer ${why}. The file is kept and the frame is left unmeasured; look at it in another program.`;
  if (job.kind === 'pixels') {
    const { frameId } = job.metadata;
    return { kind: 'pixels', frameId, pixels: unmeasurable(frameId, job.tier, sentence) };
  }
  return {
    kind: 'metadata',
    fileId: job.fileId,
    metadata: {
      v: METADATA_VERSION,
      fileId: job.fileId,
      frameId: job.fileId as string as FrameId,
      media: 'other',
      bytes: 0,
      captured: { kind: 'absent', reason: 'unreadable' },
      body: {},
      lens: {},
      exposure: {},
      notes: [sentence],
    },
  };
};

export const unjudgeable = (
  { metadata: { frameId }, subject: { box } }: Extract<LookJob, { kind: 'judge' }>,
  reason: string,
): BikeJudgement => ({ kind: 'unjudgeable', v: JUDGE_VERSION, frameId, box, reason });

export const unseenAnswer = (job: LookJob, why: string): LookAnswer => {
  const sentence = `Expected a picture that can be looked at in full, but twice the measurer ${why}. What its preview gave stands; look at the file in another program.`;
  return job.kind === 'crop' ? { kind: 'no-crop', sentence } : { kind: 'judge', bike: unjudgeable(job, sentence) };
};
