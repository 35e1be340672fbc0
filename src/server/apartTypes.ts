/** What the desk says of frames kept apart from the sessions. Types only. */
import type { FileId, FrameId, RiderKey } from '../core/ids.js';
import type { ApartKind } from '../core/log/apartSaid.js';
import type { BikePoint } from '../core/log/types.js';
import type { WallMs } from '../core/units.js';
import type { PictureView, Spoken } from './types.js';

/** Somebody, or a bike, seen in such a frame: where one may be said to be. */
export interface ApartPlaceView {
  readonly point: BikePoint;
  readonly words: string;
  /** Code of the rider who was said to be it; null while nobody was. */
  readonly rider: string | null;
}

export interface ApartFrameView {
  readonly frameId: FrameId;
  readonly file: FileId;
  readonly wall: WallMs | null;
  readonly is: ApartKind;
  readonly words: Spoken;
  readonly picture: PictureView;
  /** From the left. */
  readonly places: readonly ApartPlaceView[];
  /** It is finished with the keepers. */
  readonly isKept: boolean;
}

export interface ApartView {
  readonly asOf: number;
  readonly frames: readonly ApartFrameView[];
  /** What may be apart and nobody said, a walk at a time, in the order of the day: one answer is for a walk. */
  readonly perhaps: readonly (readonly ApartFrameView[])[];
  /** Who may be said to be in one; by number, then by code. */
  readonly riders: readonly { readonly key: RiderKey; readonly words: string; readonly anchor: BikePoint }[];
}
