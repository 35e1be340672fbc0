/** What one request took down, as the places know it: frames, and every public id that stands for them or their riders. */
import { takedownsOf } from '../../core/finish/index.js';
import { endedSetIds } from '../../core/handover/find/index.js';
import { downIds, type PublicId, type PublicIdOf } from '../../core/handover/index.js';
import type { FrameId, GestureId } from '../../core/ids.js';
import type { FoldedLog } from '../../core/log/types.js';
import type { DayState } from '../day/types.js';

export interface Down {
  /** By frame the public id it went by: nothing else of a frame is written into a proof. */
  readonly frames: ReadonlyMap<FrameId, PublicId>;
  readonly pictures: ReadonlySet<PublicId>;
  /** Pictures, cut-outs, riders' pages and private pages. */
  readonly ids: ReadonlySet<PublicId>;
}

type Known = Pick<DayState, 'arrangement' | 'log'>;

/** Of one gesture, as if nothing else had been taken down; of a withdrawn one nothing. */
export function downBy(gesture: GestureId, { arrangement, log }: Known, idOf: PublicIdOf): Down {
  const others = new Set<string>(['take-down', 'held', 'minor']);
  const inForce = log.inForce.filter(({ line, decision }) => line.gesture === gesture || !others.has(decision.kind));
  return downIn({ arrangement, log: { ...log, inForce } }, idOf);
}

function downIn(
  { arrangement, log }: { arrangement: DayState['arrangement']; log: FoldedLog },
  idOf: PublicIdOf,
): Down {
  const takedowns = takedownsOf(arrangement, log);
  const { frames, riderIds } = takedowns;
  const pictures = new Map([...frames].map((frame) => [frame, idOf('frame', frame)]));
  const links = riderIds.size === 0 ? [] : endedSetIds(log, riderIds, idOf);
  return {
    frames: pictures,
    pictures: new Set(pictures.values()),
    ids: new Set([...downIds(takedowns, idOf), ...links]),
  };
}
