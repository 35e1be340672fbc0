/** Which of the frames kept apart are finished: those a person named or kept, without those left out or taken down. */
import type { Arrangement, Exposure } from '../arrange/types.js';
import type { FoldedLog } from '../log/types.js';
import { takedownsOf } from './takedowns.js';

/** In the day's order. A guess alone finishes nothing: nobody asked for it. */
export function apartKeepers(arrangement: Arrangement, log: FoldedLog): readonly Exposure[] {
  const apart = arrangement.exposures.filter((exposure) => exposure.apart !== undefined);
  if (apart.length === 0) return [];
  const down = takedownsOf(arrangement, log).frames;
  return apart.filter((exposure) => {
    const word = log.inForce.findLast(
      ({ decision: said }) =>
        (said.kind === 'keep' || said.kind === 'leave-out') &&
        said.point === undefined &&
        exposure.files.includes(said.file),
    );
    if (down.has(exposure.frameId) || word?.decision.kind === 'leave-out') return false;
    return word !== undefined || exposure.apart?.source.kind === 'said';
  });
}
