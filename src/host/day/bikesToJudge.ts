/** Which bikes of the day are worth full resolution, most worth first. */
import type { BikeRef } from '../../core/arrange/types.js';
import { subjectOf } from '../../core/cover/index.js';
import type { FrameId } from '../../core/ids.js';
import { type BikeJudgement, judgementOf, planJudging } from '../../core/judge/index.js';
import type { FrameMeasurement, Subject } from '../../core/measure/types.js';
import type { Derived } from './derive.js';

export interface JudgedSoFar {
  readonly pixels: ReadonlyMap<FrameId, FrameMeasurement>;
  readonly judgements: ReadonlyMap<FrameId, readonly BikeJudgement[]>;
}

export function bikesToJudge(
  { arrangement, keepers }: Derived,
  { pixels, judgements }: JudgedSoFar,
  lookedAt: readonly BikeRef[],
): readonly BikeRef[] {
  const all = [...keepers.byRider.values()].flat();
  const kept = all.filter(({ source }) => source === 'kept-by-person').map(({ bike }) => bike);
  const proposed = all.filter(({ source }) => source === 'proposed').map(({ bike }) => bike);
  const motorcycle = (bike: BikeRef): Subject | null => {
    const subject = subjectOf(bike, pixels);
    return 'kind' in subject || subject.what !== 'motorcycle' ? null : subject;
  };
  return planJudging(
    { lookedAt, kept, proposed, passes: arrangement.passes },
    (bike) => {
      const subject = motorcycle(bike);
      if (subject === null) return null;
      const { isCut, sharpness } = subject;
      return { isCut, sharpness: 'kind' in sharpness ? null : sharpness.overall };
    },
    (bike) => {
      const subject = motorcycle(bike);
      return subject !== null && judgementOf(subject, judgements.get(bike.frameId)) !== undefined;
    },
  );
}
