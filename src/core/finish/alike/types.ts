/** Frames brought to each other: what is known of each frame's light, and what it needs. */
import type { FrameId, RiderKey } from '../../ids.js';
import type { LightStops } from '../../measure/types.js';
import type { WallMs } from '../../units.js';
import type { Balance } from '../finishes/types.js';

export interface FrameLight {
  readonly frame: FrameId;
  /** Frames of one spot show the same ground; a session where no spot is known. */
  readonly spot: string;
  /** One body at one spot: what its frames need is alike from minute to minute. */
  readonly place: string;
  readonly wall: WallMs | null;
  readonly ground: LightStops | null;
  readonly riders: readonly { readonly rider: RiderKey; readonly light: LightStops }[];
}

export interface FrameBalance extends Balance {
  /** What it stands on: the frame's own ground and riders, those of frames taken about then, or nothing. */
  readonly from: 'own' | 'neighbours' | 'nothing';
  /** Stops the frame gets brighter, and its red and blue over its green. */
  readonly needs: LightStops;
}
