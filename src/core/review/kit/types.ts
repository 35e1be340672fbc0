/** What the kit did in one day, from its own frames. */
import type { BodyKey, FrameId, SpotId } from '../../ids.js';
import type { Share } from '../../numeric/wilson.js';

/** Frames of one lens, spot, group and shutter: those whose sharpness could be judged. */
export interface SharpAtShutter {
  readonly kind: 'measurement';
  readonly lens: string | null;
  readonly spot: SpotId | null;
  readonly group: string | null;
  /** The usual third-stop time nearest to it, in seconds. */
  readonly shutterS: number;
  readonly sharp: number;
  readonly frames: number;
  readonly share: Share;
  /** Some that were soft. */
  readonly evidence: readonly FrameId[];
  readonly sentence: string;
}

export interface ClippedOfBody {
  readonly kind: 'measurement';
  readonly body: BodyKey;
  readonly frames: number;
  readonly clipped: number;
  readonly share: Share;
  readonly evidence: readonly FrameId[];
  readonly sentence: string;
}

export interface KitRecords {
  readonly sharpness: readonly SharpAtShutter[];
  readonly clipped: readonly ClippedOfBody[];
}
