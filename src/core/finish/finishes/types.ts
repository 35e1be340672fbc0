/**
 * A finish is a list of figures kept beside the pictures; pixels are made from it and never kept as truth. `Finish` is what a person
 * says for the whole meeting (it lies in the log), `Balance` what one frame needs to be like the others, `Look` both together: all that
 * decides pixels.
 */
import { type Finish, HUES, type Hue, RATIOS, type Ratio, type Strengths, type Tones } from '../../log/finishSaid.js';
import type { Box } from '../../measure/types.js';

export { type Finish, HUES, type Hue, RATIOS, type Ratio, type Strengths, type Tones };

/** What brings one frame to the others. */
export interface Balance {
  /** Multiply the sensor's red, green and blue light. */
  readonly gains: readonly [number, number, number];
}

/** Where the picture is level and cut. */
export interface Framing {
  /** Clockwise turn that sets it level. */
  readonly turnDeg: number;
  /** In 0–1 of the levelled picture; null is all of it. */
  readonly crop: Box | null;
}

export interface Look extends Framing {
  readonly v: number;
  /** The sensor's red, green and blue light is multiplied by these. */
  readonly gains: readonly [number, number, number];
  readonly tones: Tones;
  readonly strengths: Strengths;
  readonly sharpness: number;
  readonly grain: number;
}

/** What is done to a picture, in this order; whole pixels. */
export type LookOperation =
  /** Of the whole upright picture; never larger than it is. */
  | { readonly op: 'size'; readonly widthPx: number; readonly heightPx: number }
  /** About the middle, clockwise; the canvas grows to hold all. */
  | { readonly op: 'turn'; readonly deg: number }
  | {
      readonly op: 'cut';
      readonly leftPx: number;
      readonly topPx: number;
      readonly widthPx: number;
      readonly heightPx: number;
    }
  | { readonly op: 'quiet'; readonly strength: number }
  | {
      readonly op: 'colour';
      readonly gains: Look['gains'];
      readonly tones: Tones;
      readonly strengths: Strengths;
    }
  | { readonly op: 'sharpen'; readonly strength: number };
