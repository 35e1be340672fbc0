/** What the digit network says, and what is made of it on the way to a reading. Pixels are those of the picture looked at. */

/** Channels × rows × columns, one cell for each 4 × 4 pixels; channels as in `tools/vision/numbers/network.py`. */
export interface DigitMaps {
  readonly data: Float32Array;
  readonly columns: number;
  readonly rows: number;
}

/** Runs the network on a picture, red, green and blue planes 0–255 one after another; sides are multiples of 32. */
export type LookForDigits = (planes: Float32Array, width: number, height: number) => Promise<DigitMaps>;

export interface Digit {
  /** 0–1: that the middle of a digit is here. */
  readonly score: number;
  readonly x: number;
  readonly y: number;
  /** Along and across the reading direction. */
  readonly width: number;
  readonly height: number;
  /** Cosine and sine of the reading direction, y down. */
  readonly cos: number;
  readonly sin: number;
  /** Where the digit says the middle of its number is. */
  readonly numberX: number;
  readonly numberY: number;
  /** Chances of 0–9. */
  readonly chances: readonly number[];
  /** Chances of one, two and three digits. */
  readonly lengths: readonly number[];
  /** 0–1: that every digit of its number is in sight; 1 where the network does not tell. */
  readonly whole: number;
}

/** Digits read together, in reading order. */
export interface DigitGroup {
  readonly digits: readonly (readonly number[])[];
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly height: number;
  readonly angle: number;
  /** Weakest digit's score. */
  readonly found: number;
  /** 0–1: that the middle of a number lies where the digits say. */
  readonly number: number;
  readonly lengthChance: number;
  readonly whole: number;
  readonly score: number;
}

/** A number as the first look and the upright ones together see it, in pixels of the picture. */
export interface SeenNumber extends DigitGroup {
  /** 0–1: the share of the looks' votes that is for this length. */
  readonly agreement: number;
}
