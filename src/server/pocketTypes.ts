/** What the desk tells of the phone's day, of what was tapped on it, and of cards. Types only, as in `types.ts`. */
import type { GestureId, RiderKey } from '../core/ids.js';
import type { QrPath } from '../core/measure/cards/index.js';
import type { WallMs } from '../core/units.js';
import type { GroupKeyView, PictureView } from './types.js';

export interface PocketView {
  readonly asOf: number;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  /** Where the page is hosted; null where nobody said. */
  readonly address: string | null;
  /** From 1; who shares the day. */
  readonly photographers: number;
  /** Stays of the day as it would go along. */
  readonly stays: number;
  /** Cards that were handed out, by number. */
  readonly cards: readonly { readonly number: number; readonly name: string | null; readonly contact: string | null }[];
  /** Cards in pictures that say nothing that could be taken, and why. */
  readonly cardNotes: readonly string[];
  /** This desk can write the page's folder and cards into the meeting. */
  readonly canWrite: boolean;
}

/** The day on its way into the pocket. */
export interface CarriedView {
  readonly date: string;
  readonly code:
    | {
        readonly kind: 'code';
        readonly text: string;
        readonly qr: QrPath;
        readonly squeezedBytes: number;
        /** Riders to look for that fit. */
        readonly watched: number;
        readonly leftOut: readonly string[];
      }
    | { readonly kind: 'file-only'; readonly sentence: string };
  readonly stays: number;
  /** What is missing of the plan it was made from. */
  readonly warnings: readonly string[];
}

export interface TapView {
  readonly gesture: GestureId;
  /** What it says, in a sentence. */
  readonly text: string;
  readonly is: 'new' | 'said' | 'taken-back';
  /** What follows for the timetable; of new ones only. */
  readonly follows: readonly string[];
}

export interface TapsView {
  readonly asOf: number;
  readonly taps: readonly TapView[];
  /** Taps that say nothing the log can hold. */
  readonly notes: readonly string[];
}

export interface RollCallView {
  readonly asOf: number;
  readonly from: WallMs;
  readonly to: WallMs;
  readonly group: GroupKeyView;
  readonly least: number;
  readonly most: number;
  readonly sentence: string;
  /** One of each bike, of a rider known by the day one only; `rider` null where it is in nobody's set. */
  readonly looks: readonly {
    readonly picture: PictureView;
    readonly subject: number;
    readonly rider: { readonly key: RiderKey; readonly code: string; readonly words: string } | null;
  }[];
}
