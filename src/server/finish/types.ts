/** What the desk tells of the finish. Types only, as in `../types.ts`. */
import type { Crop } from '../../core/finish/crops/types.js';
import type { FileId, FrameId } from '../../core/ids.js';
import type { Finish, Ratio } from '../../core/log/finishSaid.js';
import type { Box } from '../../core/measure/types.js';

/** A frame as it came from the card: how much brighter and warmer than the others are brought to, in stops. */
export interface FrameTickView {
  readonly brighter: number;
  readonly warmer: number;
}

/** One frame of several, to look at. */
export interface ExampleView {
  readonly frameId: FrameId;
  readonly aspect: number;
}

export interface FinishSpotView {
  /** Of the plan; absent where no spot is known. */
  readonly number: number | null;
  readonly name: string;
  readonly frames: number;
  /** Middle of what its frames get, in stops; null where none showed ground. */
  readonly stops: number | null;
  readonly warmth: number | null;
  readonly example: ExampleView;
}

export interface FinishView {
  readonly asOf: number;
  readonly keepers: number;
  /** What stands: said by somebody, or a proposal nobody has taken yet. */
  readonly finish: Finish;
  readonly isSaid: boolean;
  /** Whose word it then is. */
  readonly initials: string;
  readonly ticks: readonly FrameTickView[];
  /** Keepers by what their balance stands on. */
  readonly seen: { readonly own: number; readonly neighbours: number; readonly nothing: number };
  /** Keepers that uprights put level, and by how much each, in degrees. */
  readonly levelled: readonly number[];
  readonly spots: readonly FinishSpotView[];
  /** Frames kept apart that are finished, and by which finish; null: as they were taken. */
  readonly apart: { readonly frames: number; readonly said: Finish | null; readonly example: ExampleView | null };
}

/** Finishes kept for other meetings, by name. */
export interface KeptView {
  readonly finishes: readonly Finish[];
}

/** The mark of proofs. */
export interface MarkView {
  /** The photographer's own, at `/pictures/mark`. */
  readonly isPicture: boolean;
  /** The meeting's own words for it; null: "proof" and the credit. */
  readonly words: string | null;
  /** Why no proof can be marked, and what to do. */
  readonly trouble: string | null;
}

/** One keeper with its crops. */
export interface CropsView {
  readonly asOf: number;
  readonly frameId: FrameId;
  readonly file: FileId;
  readonly spot: string;
  /** Its place among the keepers, from one. */
  readonly at: number;
  readonly of: number;
  readonly before: FrameId | null;
  readonly next: FrameId | null;
  /** The next that no crop of some shape holds. */
  readonly nextWhole: FrameId | null;
  /** Keepers that stay whole in some shape. */
  readonly whole: number;
  /** Of the levelled picture in full; null where nobody knows. */
  readonly widthPx: number | null;
  readonly heightPx: number | null;
  readonly turnDeg: number;
  /** As it is finished now. */
  readonly finish: Finish;
  readonly isByItself: boolean;
  /** Whose word a crop set by hand is. */
  readonly initials: string;
  /** Bikes with their riders, in 0–1 of the levelled picture, as crops are. */
  readonly subjects: readonly Box[];
  readonly crops: readonly { readonly ratio: Ratio; readonly crop: Crop }[];
}
