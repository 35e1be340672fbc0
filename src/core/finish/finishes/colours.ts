/**
 * Colours of a look, applied to bytes. White balance and exposure are gains of linear light, exact for every byte in a table a channel.
 * Tones and strengths of hue are one table of 33 × 33 × 33 colours that a whole meeting shares; between its colours the value is that
 * of the tetrahedron it lies in ("Performing color space conversions with three-dimensional linear
 * interpolation", Journal of Electronic Imaging 4(3), 1995). A table that changes nothing changes no byte.
 */
import { codeOf, LINEAR_OF_BYTE, type LinearRgb, linearOf } from '../../numeric/colour.js';
import { areEven, intoGamut, strengthened } from './strengths.js';
import { brightened, isPlain, toned } from './tones.js';
import type { Look, Strengths, Tones } from './types.js';

const CELLS = 32;
const POINTS = CELLS + 1;
/** Parts a cell of the table is divided into: 8 bits below its colours. */
const PARTS = 256;
/** Of a byte, in the table. */
const FINE = 64;

export type Colours = Pick<Look, 'gains' | 'tones' | 'strengths'>;

export const keepsColours = ({ gains, tones, strengths }: Colours): boolean =>
  gains.every((gain) => gain === 1) && keepsShades({ tones, strengths });

const keepsShades = ({ tones, strengths }: { tones: Tones; strengths: Strengths }): boolean =>
  isPlain(tones) && areEven(strengths);

/** Codes 0–1 after the gain, by byte. */
const balanced = (gain: number): Float64Array =>
  Float64Array.from(LINEAR_OF_BYTE, (linear, byte) => (gain === 1 ? byte / 255 : codeOf(brightened(linear, gain))));

/** A function of three interleaved bytes a pixel that writes the finished ones in their place. */
export function colourChanger({ gains, tones, strengths }: Colours): (pixels: Uint8Array) => void {
  const codes = gains.map(balanced) as [Float64Array, Float64Array, Float64Array];
  return keepsShades({ tones, strengths }) ? byChannel(codes) : byTable(codes, shadeTable(tones, strengths));
}

function byChannel(codes: readonly [Float64Array, Float64Array, Float64Array]): (pixels: Uint8Array) => void {
  const [reds, greens, blues] = codes.map((channel) => Uint8Array.from(channel, (code) => Math.round(255 * code))) as [
    Uint8Array,
    Uint8Array,
    Uint8Array,
  ];
  return (pixels) => {
    for (let at = 0; at + 2 < pixels.length; at += 3) {
      pixels[at] = reds[pixels[at]!]!;
      pixels[at + 1] = greens[pixels[at + 1]!]!;
      pixels[at + 2] = blues[pixels[at + 2]!]!;
    }
  };
}

let lastTable: { readonly key: string; readonly table: Int16Array } | null = null;

/** Kept from one picture to the next: a meeting has one. */
function shadeTable(tones: Tones, strengths: Strengths): Int16Array {
  const key = JSON.stringify([tones, strengths]);
  if (lastTable?.key !== key) lastTable = { key, table: makeTable(tones, strengths) };
  return lastTable.table;
}

function makeTable(tones: Tones, strengths: Strengths): Int16Array {
  const table = new Int16Array(POINTS ** 3 * 3);
  const light = Float64Array.from({ length: POINTS }, (_, index) => linearOf(index / CELLS));
  for (let red = 0, at = 0; red < POINTS; red += 1)
    for (let green = 0; green < POINTS; green += 1)
      for (let blue = 0; blue < POINTS; blue += 1, at += 3) {
        const shaded = shadeOf([light[red]!, light[green]!, light[blue]!], tones, strengths);
        for (let channel = 0; channel < 3; channel += 1)
          table[at + channel] = Math.round(255 * FINE * codeOf(Math.min(1, Math.max(0, shaded[channel]!))));
      }
  return table;
}

/** Light is multiplied, not bent channel by channel, so that a lifted red stays the same red. */
function shadeOf(light: LinearRgb, tones: Tones, strengths: Strengths): LinearRgb {
  const luminance = 0.2126 * light[0] + 0.7152 * light[1] + 0.0722 * light[2];
  if (luminance <= 0) return [0, 0, 0];
  const factor = toned(luminance, tones) / luminance;
  const lifted: LinearRgb = [light[0] * factor, light[1] * factor, light[2] * factor];
  return intoGamut(areEven(strengths) ? lifted : strengthened(lifted, strengths));
}

const STEP_RED = POINTS * POINTS * 3;
const STEP_GREEN = POINTS * 3;
const STEP_BLUE = 3;
const SHIFT = Math.log2(FINE * PARTS);
const HALF = (FINE * PARTS) / 2;

function byTable(
  codes: readonly [Float64Array, Float64Array, Float64Array],
  table: Int16Array,
): (pixels: Uint8Array) => void {
  const [reds, greens, blues] = codes.map((channel) =>
    Int32Array.from(channel, (code) => Math.min(CELLS * PARTS - 1, Math.round(code * CELLS * PARTS))),
  ) as [Int32Array, Int32Array, Int32Array];
  return (pixels) => {
    for (let at = 0; at + 2 < pixels.length; at += 3) {
      const red = reds[pixels[at]!]!;
      const green = greens[pixels[at + 1]!]!;
      const blue = blues[pixels[at + 2]!]!;
      const [r, g, b] = [red & 255, green & 255, blue & 255];
      const near = (red >> 8) * STEP_RED + (green >> 8) * STEP_GREEN + (blue >> 8) * STEP_BLUE;
      // From the near corner of the cell to the far one, the largest step first: two corners on the way.
      let [most, least] = [r, b];
      let [first, last] = [STEP_RED, STEP_BLUE];
      if (g > most) [most, first] = [g, STEP_GREEN];
      if (b > most) [most, first] = [b, STEP_BLUE];
      if (g < least) [least, last] = [g, STEP_GREEN];
      if (r < least) [least, last] = [r, STEP_RED];
      const middle = r + g + b - most - least;
      const one = near + first;
      const far = near + STEP_RED + STEP_GREEN + STEP_BLUE;
      const two = far - last;
      const [ofNear, ofOne, ofTwo] = [PARTS - most, most - middle, middle - least];
      pixels[at] =
        (ofNear * table[near]! + ofOne * table[one]! + ofTwo * table[two]! + least * table[far]! + HALF) >> SHIFT;
      pixels[at + 1] =
        (ofNear * table[near + 1]! +
          ofOne * table[one + 1]! +
          ofTwo * table[two + 1]! +
          least * table[far + 1]! +
          HALF) >>
        SHIFT;
      pixels[at + 2] =
        (ofNear * table[near + 2]! +
          ofOne * table[one + 2]! +
          ofTwo * table[two + 2]! +
          least * table[far + 2]! +
          HALF) >>
        SHIFT;
    }
  };
}
