/** Dust on a sensor: what is looked at, and what was found. Positions are of the picture as recorded, before it is turned upright. */
import type { FrameId } from '../../ids.js';
import type { GreyImage } from '../images.js';

/** One frame of a body as the sensor wrote it: not turned, so that the same place is the same place. */
export interface DustFrame {
  readonly frameId: FrameId;
  readonly image: GreyImage;
}

export interface DustInput {
  /** All of one body and one size; those that differ from the first are left out. */
  readonly frames: readonly DustFrame[];
  /** Pixels of these images for one pixel of a picture of 6,000 × 4,000: 0.5 for half of it. */
  readonly scale: number;
}

export interface DustSpot {
  /** 0–1 across and down the picture as recorded. */
  readonly x: number;
  readonly y: number;
  /** Across, in pixels of a picture of 6,000 × 4,000; to about a third. */
  readonly acrossPx: number;
  /** How much less light arrives in it, 0–1. */
  readonly darker: number;
  /** How far the frames together lie from no spot, in standard deviations. */
  readonly sigmas: number;
  /** Frames in which it stands out by itself, clearest first: the evidence. */
  readonly frames: readonly FrameId[];
  /** Frames in which the place could be judged. */
  readonly judged: number;
}

export type DustFound =
  | { readonly kind: 'looked'; readonly spots: readonly DustSpot[]; readonly frames: number }
  | { readonly kind: 'cannot-tell'; readonly reason: string };
