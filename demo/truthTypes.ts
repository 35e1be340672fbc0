/** What is true of the invented meeting; accuracy is measured against this. */
import type { Stand, Timetable } from '../src/core/plan/types.js';

export interface TrueRider {
  readonly key: string;
  readonly number: string | null;
  /** Group before and after lunch. */
  readonly groups: readonly [string, string];
  readonly bikeColour: string;
  readonly leathersColour: string;
  readonly fleet: string | null;
}

export interface TrueFrame {
  readonly card: string;
  /** On the card, from its root. */
  readonly path: string;
  readonly body: string;
  /** Corrected wall time `YYYY-MM-DDTHH:MM:SS.sss`. */
  readonly wall: string;
  readonly session: string | null;
  readonly spot: string | null;
  readonly role: 'bike' | 'divider' | 'damaged';
  readonly bikes: readonly {
    readonly rider: string;
    readonly box: readonly [number, number, number, number];
    readonly pass: number;
  }[];
  readonly blur: 'sharp' | 'motion' | 'defocus' | null;
  /** In `demo/frames.br`. */
  readonly picture?: string;
  /** The RAW beside it, on the card, from its root. */
  readonly raw?: string;
  /** What the camera writes about it. */
  readonly taken?: TrueExposure;
}

export interface TrueExposure {
  readonly shutterS: number;
  readonly fNumber: number;
  readonly iso: number;
  readonly focalLengthMm: number;
  /** Exif orientation; boxes are in upright coordinates whatever it is. */
  readonly orientation: 1 | 8;
}

export interface DemoTruth {
  readonly meeting: { readonly name: string; readonly circuit: string; readonly date: string; readonly zone: string };
  readonly spots: readonly { readonly id: string; readonly number: number; readonly name: string }[];
  readonly timetable: Timetable;
  readonly stands: readonly (Omit<Stand, 'body'> & { readonly body: string | null })[];
  readonly riders: readonly TrueRider[];
  /** Sessions as they really ran, corrected wall time. */
  readonly sessions: readonly {
    readonly name: string;
    readonly group: string;
    readonly start: string;
    readonly end: string;
  }[];
  /** Seconds by which a body's clock is fast. */
  readonly clocks: readonly { readonly body: string; readonly fastS: number }[];
  readonly frames: readonly TrueFrame[];
}
