/** What the desk tells of the finish. Types only, as in `../types.ts`. */
import type { FrameId } from '../../core/ids.js';
import type { Finish } from '../../core/log/finishSaid.js';

/** A frame as it came from the card: how much brighter and warmer than the others are brought to, in stops. */
export interface FrameTickView {
  readonly brighter: number;
  readonly warmer: number;
}

export interface FinishSpotView {
  /** Of the plan; absent where no spot is known. */
  readonly number: number | null;
  readonly name: string;
  readonly frames: number;
  /** Middle of what its frames get, in stops; null where none showed ground. */
  readonly stops: number | null;
  readonly warmth: number | null;
  /** One of its frames, to look at. */
  readonly example: { readonly frameId: FrameId; readonly aspect: number };
}

export interface FinishView {
  readonly asOf: number;
  readonly keepers: number;
  /** What stands: said by somebody, or a proposal nobody has taken yet. */
  readonly finish: Finish;
  readonly isSaid: boolean;
  readonly ticks: readonly FrameTickView[];
  /** Keepers by what their balance stands on. */
  readonly seen: { readonly own: number; readonly neighbours: number; readonly nothing: number };
  /** Keepers that uprights put level, and by how much each, in degrees. */
  readonly levelled: readonly number[];
  readonly spots: readonly FinishSpotView[];
  /** Frames kept apart that are finished, and by which finish; null: as they were taken. */
  readonly apart: { readonly frames: number; readonly said: Finish | null };
}
