/** Which frames are held back, and which to look at before they are shown. Rules LW17, LW18. */
import type { BikeRef } from '../../core/arrange/types.js';
import { takedownsOf } from '../../core/finish/index.js';
import { askToHold, type HoldQuestion } from '../../core/handover/law/index.js';
import type { FrameId } from '../../core/ids.js';
import type { DayState } from '../day/types.js';

export interface HeldFrames {
  readonly held: ReadonlySet<FrameId>;
  readonly asked: readonly HoldQuestion[];
}

export function heldFrames({
  arrangement,
  log,
  judged,
  keepers,
}: Pick<DayState, 'arrangement' | 'log' | 'judged' | 'keepers'>): HeldFrames {
  const { frames, held } = takedownsOf(arrangement, log);
  const said = new Set(log.inForce.flatMap(({ decision }) => (decision.kind === 'released' ? [decision.file] : [])));
  const answered = new Set<FrameId>([
    ...frames,
    ...arrangement.exposures.filter((one) => one.files.some((file) => said.has(file))).map(({ frameId }) => frameId),
  ]);
  const shown: readonly BikeRef[] = [...keepers.byRider.values()].flat().map(({ bike }) => bike);
  return { held, asked: askToHold(shown, judged, answered) };
}
