/** Places, held frames and what is pending, as the gallery's sheet shows them. */
import { basename } from 'node:path';
import type { FrameId } from '../../core/ids.js';
import { epochMsOf } from '../../core/units.js';
import { heldFrames } from '../../host/law/index.js';
import type { WorkView } from '../types.js';
import { type Known, knownOf } from '../views/known.js';
import { pictureOf } from '../views/riderLine.js';
import { clockOf, wallIn } from '../views/wallTime.js';
import { counted } from '../views/words.js';
import type { HeldFrameView, PlaceStanding, PlaceView } from './types.js';

export function placeView(standing: PlaceStanding, zone: string, work: WorkView): PlaceView {
  const { name, said, since, files, pending, failed } = standing;
  return {
    name,
    said,
    stands:
      since === null
        ? 'No whole gallery stands there yet.'
        : `A gallery of ${counted(files, 'file')} stands there since ${momentIn(zone, since)}.`,
    pending:
      pending === 0
        ? null
        : `${counted(pending, 'file')} taken down and not yet gone from there. They leave first when it is put up again.`,
    // While it runs, and once it ended here, the work itself tells.
    trouble: work.state === 'idle' ? failed : null,
    work,
  };
}

function momentIn(zone: string, iso: string): string {
  const wall = wallIn(zone, epochMsOf(Date.parse(iso)));
  const day = new Date(wall).toLocaleDateString('en-GB', { day: 'numeric', month: 'long', timeZone: 'UTC' });
  return `${day}, ${clockOf(wall)}`;
}

/** Held ones first, then those to be looked at. */
export function heldViews(state: Known['state']): readonly HeldFrameView[] {
  const known = knownOf(state);
  const { held, asked } = heldFrames(state);
  const view = (frame: FrameId, why: readonly string[], isHeld: boolean): HeldFrameView[] => {
    const exposure = known.exposureById.get(frame);
    if (exposure === undefined) return [];
    const bike = state.arrangement.passes.flatMap(({ bikes }) => bikes).find(({ frameId }) => frameId === frame);
    const picture = bike ? pictureOf(known, bike) : { frameId: frame, box: null, aspect: 1.5 };
    const { mainFile: file, path } = exposure;
    return [{ file, frameId: frame, name: basename(path), picture, isHeld, why }];
  };
  return [
    ...[...held].flatMap((frame) => view(frame, [], true)),
    ...asked.flatMap(({ frame, why }) => view(frame, why, false)),
  ];
}
