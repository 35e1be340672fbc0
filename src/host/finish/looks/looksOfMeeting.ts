/** How every frame of a meeting is to look, by what was said of its finish; nothing said, nothing done. */
import { type PlannedLook, type PlannedLooks, planLooks } from '../../../core/finish/index.js';
import type { FrameId } from '../../../core/ids.js';
import type { DayState } from '../../day/types.js';
import type { NamedLook } from '../frames.js';

export type LooksState = Pick<DayState, 'arrangement' | 'pixels' | 'log'> & Partial<Pick<DayState, 'metadata'>>;

export function planLooksOf(state: LooksState, wanted: ReadonlySet<FrameId>): PlannedLooks {
  const { arrangement, pixels, log, metadata } = state;
  return planLooks(
    {
      arrangement,
      pixels,
      log,
      sizeOf: ({ mainFile }) => {
        const { widthPx, heightPx } = metadata?.get(mainFile) ?? {};
        return widthPx && heightPx ? { widthPx, heightPx } : null;
      },
    },
    wanted,
  );
}

/** The whole picture first, then each crop that could be made; its name is the shape, safe in a file's name. */
export function looksOfMeeting(
  state: LooksState,
  wanted: ReadonlySet<FrameId>,
): (frame: FrameId) => readonly NamedLook[] {
  const { looks } = planLooksOf(state, wanted);
  return (frame) => {
    const planned = looks.get(frame);
    return planned ? namedLooks(planned) : [];
  };
}

const namedLooks = ({ look, crops }: PlannedLook): readonly NamedLook[] => [
  { name: '', look },
  ...crops.flatMap(({ ratio, crop }) =>
    crop.kind === 'crop' ? [{ name: ratio.replace(':', 'x'), look: { ...look, crop: crop.box } }] : [],
  ),
];
