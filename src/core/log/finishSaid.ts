/** A finish as a person says it: figures, and the words they go by. What is done with them is the finishing stage's. */

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

/** Frames that are finished alike: those of the track, and those kept apart from its sessions. */
export const FINISHED_ALIKE = ['track', 'apart'] as const;
export type FinishedAlike = (typeof FINISHED_ALIKE)[number];
