/**
 * Colours of a look, applied to bytes. White balance and exposure are gains of the light on the sensor, through the
 * camera's bend and back, exact for every byte in a table a channel.
 * Tones and strengths of hue are one table of 33 × 33 × 33 colours that a whole meeting shares; between its colours the value is that
 * of the tetrahedron it lies in ("Performing color space conversions with three-dimensional linear
 * interpolation", Journal of Electronic Imaging 4(3), 1995). A table that changes nothing changes no byte.
 */
import { reexposed } from '../../numeric/cameraCurve.js';
import { codeOf, LINEAR_OF_BYTE, type LinearRgb, linearOf } from '../../numeric/colour.js';
import { areEven, intoGamut, strengthened } from './strengths.js';
import { isPlain, toned } from './tones.js';
import type { Look, Strengths, Tones } from './types.js';

const CELLS = 32;
const POINTS = CELLS + 1;
/** Parts a cell of the table is divided into. */
const PARTS = 128;
const LAST_PART = PARTS - 1;
const PART_BITS = 7;
/** Of a byte, in the table. */
const FINE = 4;
/** All three channels of a colour lie in one number, 17 bits each: it is read, weighed and added once, exactly (51 of 53 bits). */
const ONE_UP = 2 ** 17;
const TWO_UP = 2 ** 34;

export type Colours = Pick<Look, 'gains' | 'tones' | 'strengths'>;

export const keepsColours = ({ gains, tones, strengths }: Colours): boolean =>
  gains.every((gain) => gain === 1) && keepsShades({ tones, strengths });

const keepsShades = ({ tones, strengths }: { tones: Tones; strengths: Strengths }): boolean =>
  isPlain(tones) && areEven(strengths);

/** Codes 0–1 after the gain, by byte. */
const balanced = (gain: number): Float64Array =>
  Float64Array.from(LINEAR_OF_BYTE, (linear, byte) => (gain === 1 ? byte / 255 : codeOf(reexposed(linear, gain))));

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

let lastTable: { readonly key: string; readonly table: Float64Array } | null = null;

/** Kept from one picture to the next: a meeting has one. */
function shadeTable(tones: Tones, strengths: Strengths): Float64Array {
  const key = JSON.stringify([tones, strengths]);
  if (lastTable?.key !== key) lastTable = { key, table: makeTable(tones, strengths) };
  return lastTable.table;
}

function makeTable(tones: Tones, strengths: Strengths): Float64Array {
  const table = new Float64Array(POINTS ** 3);
  const light = Float64Array.from({ length: POINTS }, (_, index) => linearOf(index / CELLS));
  const part = (linear: number): number => Math.round(255 * FINE * codeOf(Math.min(1, Math.max(0, linear))));
  for (let red = 0, at = 0; red < POINTS; red += 1)
    for (let green = 0; green < POINTS; green += 1)
      for (let blue = 0; blue < POINTS; blue += 1, at += 1) {
        const [r, g, b] = shadeOf([light[red]!, light[green]!, light[blue]!], tones, strengths);
        table[at] = part(r) * TWO_UP + part(g) * ONE_UP + part(b);
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

const STEP_RED = POINTS * POINTS;
const STEP_GREEN = POINTS;
const STEP_BLUE = 1;
const FAR = STEP_RED + STEP_GREEN + STEP_BLUE;
/**
 * From the near corner of a cell to the far one, the largest step first: two corners on the way. By three bits: red above green,
 * green above blue, red above blue (a table, because a processor guesses wrong at every other branch here).
 */
const FIRST_STEP = Int32Array.from({ length: 8 }, (_, order) =>
  (order & 5) === 5 ? STEP_RED : (order & 6) === 2 ? STEP_GREEN : STEP_BLUE,
);
const LAST_CORNER = Int32Array.from(
  { length: 8 },
  (_, order) => FAR - ((order & 3) === 3 ? STEP_BLUE : (order & 6) === 4 ? STEP_GREEN : STEP_RED),
);
const SHIFT = Math.log2(FINE * PARTS);
const HALF = (FINE * PARTS) / 2;

function byTable(
  codes: readonly [Float64Array, Float64Array, Float64Array],
  table: Float64Array,
): (pixels: Uint8Array) => void {
  const [reds, greens, blues] = codes.map((channel) =>
    Int32Array.from(channel, (code) => Math.min(CELLS * PARTS - 1, Math.round(code * CELLS * PARTS))),
  ) as [Int32Array, Int32Array, Int32Array];
  return (pixels) => throughTable(pixels, reds, greens, blues, table);
}

/** One function for all looks and its figures constant: half the time of one made for each. */
function throughTable(
  pixels: Uint8Array,
  reds: Int32Array,
  greens: Int32Array,
  blues: Int32Array,
  table: Float64Array,
): void {
  for (let at = 0; at + 2 < pixels.length; at += 3) {
    const red = reds[pixels[at]!]!;
    const green = greens[pixels[at + 1]!]!;
    const blue = blues[pixels[at + 2]!]!;
    const r = red & LAST_PART;
    const g = green & LAST_PART;
    const b = blue & LAST_PART;
    const near = (red >> PART_BITS) * STEP_RED + (green >> PART_BITS) * STEP_GREEN + (blue >> PART_BITS) * STEP_BLUE;
    const most = Math.max(r, Math.max(g, b));
    const least = Math.min(r, Math.min(g, b));
    const order = (((g - r) >>> 31) << 2) | (((b - g) >>> 31) << 1) | ((b - r) >>> 31);
    const middle = r + g + b - most - least;
    const all =
      (PARTS - most) * table[near]! +
      (most - middle) * table[near + FIRST_STEP[order]!]! +
      (middle - least) * table[near + LAST_CORNER[order]!]! +
      least * table[near + FAR]!;
    const ofRed = (all * 2 ** -34) | 0;
    const others = all - ofRed * TWO_UP;
    const ofGreen = (others * 2 ** -17) | 0;
    pixels[at] = (ofRed + HALF) >> SHIFT;
    pixels[at + 1] = (ofGreen + HALF) >> SHIFT;
    pixels[at + 2] = (others - ofGreen * ONE_UP + HALF) >> SHIFT;
  }
}
