/**
 * A coarse signature of what lies around the subjects, to tell spots apart: in three rows of the picture the shares of
 * 3 × 3 × 3 Lab cells outside the subjects' boxes (square roots, so a dot product compares), the texture across and
 * down, and the field of view where the lens's 35 mm equivalent is known. Panning moves a scene sideways, so columns are
 * not kept. 81 + 6 + 1 = 88 bytes of int8.
 */
import { labOfRgb } from '../numeric/colour.js';
import { base64Of, codesOf, normalise } from './describeBike.js';
import { greyOf, type RgbImage } from './images.js';
import type { Box } from './types.js';

const ROWS = 3;
const CELLS = 27;
const TEXTURE_WEIGHT = 0.35;
/** The lens counts about as much as one colour's being there or not. */
const LENS_WEIGHT = 0.3;
/** Centre of the usual trackside lenses, and the span from there to a standard lens, in octaves of focal length. */
const USUAL_FOCAL_LENGTH_MM = 200;
const OCTAVES = 2.5;
const CODE_SCALE = 127;

export function describeScene(small: RgbImage, subjects: readonly Box[], focalLength35Mm?: number): string {
  const isOutside = outside(small, subjects);
  const lens = focalLength35Mm ? Math.log2(focalLength35Mm / USUAL_FOCAL_LENGTH_MM) / OCTAVES : 0;
  const values = normalise(
    Float32Array.from([
      ...colourRows(small, isOutside),
      ...textureRows(small, isOutside),
      LENS_WEIGHT * clampUnit(lens),
    ]),
  );
  return base64Of(Int8Array.from(values, (value) => Math.round(value * CODE_SCALE)));
}

/** Unit vector of a scene descriptor; a dot product of two is 1 for the same scene. */
export const sceneVector = (descriptor: string): Float32Array => normalise(Float32Array.from(codesOf(descriptor)));

const clampUnit = (value: number): number => Math.min(1, Math.max(-1, value));

/** 1 where a pixel belongs to no subject. */
function outside({ width, height }: RgbImage, subjects: readonly Box[]): Uint8Array {
  const flags = new Uint8Array(width * height).fill(1);
  for (const [left, top, boxWidth, boxHeight] of subjects) {
    const right = Math.ceil((left + boxWidth) * width);
    for (let y = Math.floor(top * height); y < Math.min(height, Math.ceil((top + boxHeight) * height)); y += 1) {
      flags.fill(0, y * width + Math.floor(left * width), y * width + Math.min(width, right));
    }
  }
  return flags;
}

const rowOf = (y: number, height: number): number => Math.min(ROWS - 1, Math.floor((y * ROWS) / height));

function colourRows({ data, width, height }: RgbImage, isOutside: Uint8Array): Float32Array {
  const shares = new Float32Array(ROWS * CELLS);
  const counts = new Float32Array(ROWS);
  for (let index = 0; index < isOutside.length; index += 1) {
    if (!isOutside[index]) continue;
    const row = rowOf(Math.floor(index / width), height);
    const [l, a, b] = labOfRgb(data[3 * index]!, data[3 * index + 1]!, data[3 * index + 2]!);
    const cell = third(l, 40, 70) * 9 + third(a, -6, 8) * 3 + third(b, -4, 12);
    shares[row * CELLS + cell]! += 1;
    counts[row]! += 1;
  }
  return shares.map((count, index) => Math.sqrt(count / Math.max(1, counts[Math.floor(index / CELLS)]!)));
}

const third = (value: number, low: number, high: number): number => (value < low ? 0 : value < high ? 1 : 2);

function textureRows(image: RgbImage, isOutside: Uint8Array): Float32Array {
  const { data, width, height } = greyOf(image);
  const sums = new Float32Array(2 * ROWS);
  const counts = new Float32Array(ROWS);
  for (let y = 0; y + 1 < height; y += 1) {
    const row = rowOf(y, height);
    for (let index = y * width, end = index + width - 1; index < end; index += 1) {
      if (!isOutside[index]) continue;
      sums[2 * row]! += Math.abs(data[index + 1]! - data[index]!);
      sums[2 * row + 1]! += Math.abs(data[index + width]! - data[index]!);
      counts[row]! += 1;
    }
  }
  return sums.map((sum, index) => TEXTURE_WEIGHT * Math.min(1, sum / Math.max(1, counts[index >> 1]!) / 24));
}
