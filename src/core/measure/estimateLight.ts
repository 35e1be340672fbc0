/**
 * The light's tint and the picture's exposure, from what is nearly neutral in it: tarmac, gravel, cloud, white lines,
 * barriers. Grey-world (G. Buchsbaum, J. Franklin Inst. 310, 1980) restricted to pixels that could be neutral, applied
 * as von Kries gains in linear light. Where little is neutral (grass and sky fill the frame) the gains shrink towards 1:
 * a wrong correction is worse than none.
 */
import { codeOf, LINEAR_OF_BYTE, type LinearRgb } from '../numeric/colour.js';
import type { RgbImage } from './images.js';

export interface Light {
  /** Multiply linear red, green, blue by these for colours as under neutral light of ordinary brightness. */
  readonly gains: readonly [number, number, number];
}

const DARKEST_CODE = 16;
const BRIGHTEST_CODE = 250;
/** Largest |log2(red/green)| or |log2(blue/green)| of a neutral surface in ordinary daylight tints, shade included. */
const MOST_TINT = 0.55;
/** Half-width within which a pixel counts as neutral about the current estimate, round by round. */
const NEUTRAL_WIDTHS = [0.6, 0.45, 0.35, 0.28, 0.28] as const;
/** With this share of the frame neutral the estimate is believed whole. */
const ENOUGH_NEUTRAL = 0.12;
/** A picture whose bright parts stay below this relative luminance is brightened for naming, by at most 2×. */
const BRIGHT_PART = 0.75;
const MOST_BRIGHTENING = 2;

export function estimateLight(image: RgbImage): Light {
  const { redTint, blueTint, brightening } = tintOf(image);
  const gains = [2 ** -redTint, 1, 2 ** -blueTint] as const;
  // Keep luminance: a tint correction must not brighten or darken.
  const luminance = 0.2126 * gains[0] + 0.7152 + 0.0722 * gains[2];
  const scale = brightening / luminance;
  return { gains: [gains[0] * scale, scale, gains[2] * scale] };
}

/** log2 of the linear light of each code; code 0 counts as half of code 1. */
const LOG_OF_BYTE: Float64Array = LINEAR_OF_BYTE.map((linear) => Math.log2(Math.max(linear, LINEAR_OF_BYTE[1]! / 2)));

function tintOf({ data }: RgbImage) {
  const pixels = data.length / 3;
  const red = new Float32Array(pixels);
  const blue = new Float32Array(pixels);
  const luminances = new Float32Array(pixels);
  let usable = 0;
  for (let at = 0; at < data.length; at += 3) {
    const [r, g, b] = [data[at]!, data[at + 1]!, data[at + 2]!];
    luminances[at / 3] = 0.2126 * LINEAR_OF_BYTE[r]! + 0.7152 * LINEAR_OF_BYTE[g]! + 0.0722 * LINEAR_OF_BYTE[b]!;
    if (Math.max(r, g, b) > BRIGHTEST_CODE || Math.min(r, g, b) < DARKEST_CODE) continue;
    red[usable] = LOG_OF_BYTE[r]! - LOG_OF_BYTE[g]!;
    blue[usable] = LOG_OF_BYTE[b]! - LOG_OF_BYTE[g]!;
    usable += 1;
  }
  const bright = luminances.sort()[Math.floor(0.97 * pixels)] ?? 1;
  const brightening = Math.min(MOST_BRIGHTENING, Math.max(1, BRIGHT_PART / Math.max(bright, 1e-3)));
  return { ...neutralPoint(red.subarray(0, usable), blue.subarray(0, usable), pixels), brightening };
}

/** Mean-shift from "no tint" towards the middle of the nearly neutral pixels. */
function neutralPoint(red: Float32Array, blue: Float32Array, pixels: number) {
  let redTint = 0;
  let blueTint = 0;
  let share = 0;
  for (const width of NEUTRAL_WIDTHS) {
    let [weight, redSum, blueSum] = [0, 0, 0];
    for (let index = 0; index < red.length; index += 1) {
      const squares = ((red[index]! - redTint) ** 2 + (blue[index]! - blueTint) ** 2) / width ** 2;
      if (squares > 1) continue;
      const each = 1 - squares;
      weight += each;
      redSum += each * red[index]!;
      blueSum += each * blue[index]!;
    }
    if (weight === 0) break;
    share = weight / Math.max(1, pixels);
    redTint = clampTint(redSum / weight);
    blueTint = clampTint(blueSum / weight);
  }
  const belief = Math.min(1, share / ENOUGH_NEUTRAL);
  return { redTint: belief * redTint, blueTint: belief * blueTint };
}

const clampTint = (value: number): number => Math.min(MOST_TINT, Math.max(-MOST_TINT, value));

/** Bytes to bytes under the neutral light, one table a channel; a veil of linear light is taken off first. */
export function correctionTables(
  { gains }: Light,
  veil: LinearRgb = [0, 0, 0],
): readonly [Uint8Array, Uint8Array, Uint8Array] {
  const table = (channel: 0 | 1 | 2) => {
    const gain = gains[channel] / (1 - veil[channel]);
    return Uint8Array.from(LINEAR_OF_BYTE, (linear) =>
      Math.round(255 * codeOf(Math.min(1, Math.max(0, linear - veil[channel]) * gain))),
    );
  };
  return [table(0), table(1), table(2)];
}
