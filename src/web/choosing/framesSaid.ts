/**
 * What was said here of frames stands on the screen at once, while it is written down and the day is chosen anew behind it. Once
 * the desk's own view shows it, that view alone counts; what is taken back is undone at once, till a newer view comes.
 */
import type { GestureId } from '../../core/ids.js';
import type { BikeName, RiderToChooseView, ToChooseFrameView } from '../../server/choosing/types.js';
import { standing } from '../stores/said.js';
import { createStore } from '../stores/store.js';

type Kept = ToChooseFrameView['kept'];

export interface FrameSaid {
  readonly gesture: GestureId;
  readonly bike: string;
  readonly is: 'kept-by-person' | 'left-out';
  readonly was: Kept;
  /** The desk's view has shown it. */
  readonly isHeard: boolean;
  /** Refused or taken back, when the newest view was of this state of the day; null while it stands. */
  readonly fellAt: number | null;
}

export const nameOf = ({ frameId, subject }: BikeName): string => `${frameId}/${subject}`;

/** What to show for one bike in place of what the desk says; undefined: what the desk says. */
function shownInstead(said: readonly FrameSaid[], asOf: number): Kept | undefined {
  let shown: Kept | undefined;
  for (const one of said.toReversed()) {
    if (one.fellAt === null) return shown !== undefined || one.isHeard ? shown : one.is;
    if (asOf <= one.fellAt) shown = one.was;
  }
  return shown;
}

export function withFramesSaid(view: RiderToChooseView, said: readonly FrameSaid[]): RiderToChooseView {
  if (said.length === 0) return view;
  return {
    ...view,
    passes: view.passes.map((pass) => ({
      ...pass,
      frames: pass.frames.map((frame) => {
        const kept = shownInstead(
          said.filter(({ bike }) => bike === nameOf(frame)),
          view.asOf,
        );
        return kept === undefined || kept === frame.kept ? frame : { ...frame, kept };
      }),
    })),
  };
}

/** The desk's view came: what it shows as it was said is heard. */
export function heardFrom(view: RiderToChooseView, said: readonly FrameSaid[]): readonly FrameSaid[] {
  const now = new Map(view.passes.flatMap(({ frames }) => frames).map((frame) => [nameOf(frame), frame.kept]));
  const isNew = (one: FrameSaid) => !one.isHeard && one.fellAt === null && now.get(one.bike) === one.is;
  return said.some(isNew) ? said.map((one) => (isNew(one) ? { ...one, isHeard: true } : one)) : said;
}

/** What no longer stands has fallen; what stands again is to be heard again. */
export function heldAgainst(
  said: readonly FrameSaid[],
  inForce: ReadonlySet<GestureId>,
  asOf: number,
): readonly FrameSaid[] {
  const hasTurned = ({ gesture, fellAt }: FrameSaid) => inForce.has(gesture) === (fellAt !== null);
  return said.some(hasTurned)
    ? said.map((one) => (hasTurned(one) ? { ...one, isHeard: false, fellAt: one.fellAt === null ? asOf : null } : one))
    : said;
}

export const framesSaid = createStore<readonly FrameSaid[]>([]);
let newestAsOf = 0;

export function hear(view: RiderToChooseView): void {
  newestAsOf = Math.max(newestAsOf, view.asOf);
  framesSaid.update((said) => heardFrom(view, said));
}

standing.subscribe(() => framesSaid.update((said) => heldAgainst(said, standing.get(), newestAsOf)));

/** Right after the gesture was sent. */
export const noteSaid = (gesture: GestureId, frames: readonly ToChooseFrameView[], is: FrameSaid['is']): void =>
  framesSaid.update((said) => [
    ...said,
    ...frames.map(
      (frame): FrameSaid => ({
        gesture,
        bike: nameOf(frame),
        is,
        was: frame.kept,
        isHeard: false,
        fellAt: null,
      }),
    ),
  ]);
