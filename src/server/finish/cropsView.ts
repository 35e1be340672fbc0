/** One keeper with its crops, as the sheet of crops shows it, and which keepers come before and after it. */
import { levelledShare } from '../../core/finish/crops/index.js';
import type { PlannedLook } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import type { DayState } from '../../host/day/types.js';
import { knownOf } from '../views/known.js';
import { looksNow } from './finishView.js';
import type { CropsView } from './types.js';

/** @param asked the keeper to show; else the first. Null where that one is no keeper. */
export function cropsView(state: DayState, asked: string | undefined): CropsView | null {
  const known = knownOf(state);
  const planned = looksNow(state).keepers;
  const at = asked === undefined ? 0 : planned.findIndex(({ frame }) => frame === asked);
  const look = planned[at];
  const exposure = look && known.exposureById.get(look.frame);
  if (!look || !exposure) return null;
  const { widthPx, heightPx } = state.metadata.get(exposure.mainFile) ?? {};
  const size = widthPx && heightPx ? { widthPx, heightPx } : null;
  const share = size === null ? 1 : levelledShare(size, look.look.turnDeg);
  const frameAt = (index: number): FrameId | null => planned[index]?.frame ?? null;
  return {
    asOf: state.asOf,
    frameId: look.frame,
    file: exposure.mainFile,
    spot: known.spotById.get(exposure.spot ?? '')?.name ?? 'no spot known',
    at: at + 1,
    of: planned.length,
    before: frameAt(at - 1),
    next: frameAt(at + 1),
    nextWhole: [...planned.slice(at + 1), ...planned.slice(0, at)].find(staysWhole)?.frame ?? null,
    whole: planned.filter(staysWhole).length,
    widthPx: size === null ? null : Math.round(size.widthPx * share),
    heightPx: size === null ? null : Math.round(size.heightPx * share),
    turnDeg: look.look.turnDeg,
    finish: look.finish,
    isByItself: look.isByItself,
    initials: known.initials,
    subjects: look.subjects,
    crops: look.crops,
  };
}

const staysWhole = ({ crops }: PlannedLook): boolean => crops.some(({ crop }) => crop.kind === 'kept-whole');
