/**
 * A finish is a list of figures kept beside the pictures; pixels are made from it and never kept as truth. `Finish` is what a person
 * sets for the whole meeting, `Balance` what one frame needs to be like the others, `Look` both together: all that decides pixels.
 */
import type { Box } from '../../measure/types.js';

/** Hues a person names, each with its own strength of colour. */
export const HUES = ['red', 'orange', 'yellow', 'green', 'teal', 'blue', 'purple', 'pink'] as const;
export type Hue = (typeof HUES)[number];

/** 1 leaves chroma as it is. */
export type Strengths = Readonly<Record<Hue, number>>;

export interface Tones {
  /** Slope at middle grey; 1 leaves it. Black and white stay. */
  readonly contrast: number;
  /** Stops by which bright parts below white are held down. */
  readonly brightParts: number;
  /** Stops by which the shaded side is lifted. Black stays. */
  readonly shade: number;
}

export const RATIOS = ['3:2', '4:5', '1:1', '16:9'] as const;
export type Ratio = (typeof RATIOS)[number];

export interface Finish {
  readonly name: string;
  /** How far frames are brought to each other, 0–1. */
  readonly alike: number;
  /** Stops of red light over blue, beyond neutral: more is warmer. */
  readonly warmth: number;
  /** Stops of green light taken away, beyond neutral. */
  readonly tint: number;
  readonly exposureEv: number;
  readonly tones: Tones;
  readonly strengths: Strengths;
  /** 0–1. */
  readonly sharpness: number;
  /** 0–1. */
  readonly grain: number;
  /** Tilted pictures are put level where what stands upright in them surely says so. */
  readonly isLevelled: boolean;
  /** Room ahead of the bike against room behind; 1 is as much. */
  readonly leadRoom: number;
  /** Each picture is cut to every one of these; empty leaves it whole. */
  readonly ratios: readonly Ratio[];
}

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
