/**
 * Sky and tarmac as numbers, from which the limits of the search for dust are derived: no real picture has a part in them.
 *
 * Sky: a slope of light and noise of falling octaves (power about 1/f², as clouds have), from clear to broken. Tarmac: stones of one size
 * a frame, as a standing person sees them through lenses from wide to long, light and dark by 5 to 20 %, worn unevenly; every other one is
 * photographed out of focus. Both with the noise of a body, held to what a JPEG can say.
 */
import type { GreyImage } from '../../src/core/measure/images.js';
import type { Random } from '../../src/core/numeric/random.js';

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Values between −1 and 1 at the corners of cells, smooth between them (value noise with the smoothstep of its time). */
function addOctave(out: Float64Array, { width, height }: Size, random: Random, cellPx: number, depth: number): void {
  const columns = Math.ceil(width / cellPx) + 2;
  const rows = Math.ceil(height / cellPx) + 2;
  const corners = Float64Array.from({ length: columns * rows }, () => random.between(-1, 1));
  const [shiftX, shiftY] = [random.next(), random.next()];
  const smooth = (t: number) => t * t * (3 - 2 * t);
  for (let y = 0; y < height; y += 1) {
    const v = y / cellPx + shiftY;
    const row = Math.floor(v);
    const fy = smooth(v - row);
    for (let x = 0; x < width; x += 1) {
      const u = x / cellPx + shiftX;
      const column = Math.floor(u);
      const fx = smooth(u - column);
      const at = row * columns + column;
      const upper = corners[at]! + fx * (corners[at + 1]! - corners[at]!);
      const lower = corners[at + columns]! + fx * (corners[at + columns + 1]! - corners[at + columns]!);
      out[y * width + x]! += depth * (upper + fy * (lower - upper));
    }
  }
}

const toValue = (light: number): number =>
  Math.max(
    0,
    Math.min(255, Math.round(255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055))),
  );

/** Of the largest value: about a body's at ISO 200 to 800, halved. */
const noiseOf = (random: Random): number => random.between(0.004, 0.008);

function pictureOf(logLight: Float64Array, size: Size, random: Random): GreyImage {
  const noise = 255 * noiseOf(random);
  return {
    ...size,
    data: Uint8Array.from(logLight, (log) =>
      Math.max(0, Math.min(255, toValue(Math.exp(log)) + noise * random.normal())),
    ),
  };
}

export function madeUpSky(random: Random, size: Size): GreyImage {
  const log = new Float64Array(size.width * size.height);
  const depth = random.between(0.02, 0.35);
  for (let cell = 256; cell >= 4; cell /= 2) addOctave(log, size, random, cell, (depth * cell) / 256);
  const [base, slope] = [Math.log(random.between(0.2, 0.6)), random.between(-0.4, 0.4)];
  for (let at = 0; at < log.length; at += 1) log[at]! += base + (slope * Math.floor(at / size.width)) / size.height;
  return pictureOf(log, size, random);
}

export function madeUpTarmac(random: Random, size: Size): GreyImage {
  const log = new Float64Array(size.width * size.height);
  const stonePx = Math.exp(random.between(Math.log(1.5), Math.log(9)));
  const depth = random.between(0.05, 0.2);
  addOctave(log, size, random, stonePx, 1.7 * depth);
  addOctave(log, size, random, 2.3 * stonePx, 0.8 * depth);
  for (let cell = 160; cell >= 20; cell /= 2) addOctave(log, size, random, cell, 0.04);
  const blurPx = random.chance(0.5) ? random.between(1, 4) : 0;
  const seen = blurPx > 0 ? outOfFocus(log, size, Math.round(blurPx)) : log;
  const base = Math.log(random.between(0.06, 0.25));
  return pictureOf(
    seen.map((value) => value + base),
    size,
    random,
  );
}

/** Two running means across and down: near enough to a disc. */
function outOfFocus(values: Float64Array, { width, height }: Size, radius: number): Float64Array {
  const along = (from: Float64Array, length: number, lines: number, step: number, lineStep: number): Float64Array => {
    const out = new Float64Array(from.length);
    for (let line = 0; line < lines; line += 1)
      for (let at = 0; at < length; at += 1) {
        const [low, high] = [Math.max(0, at - radius), Math.min(length - 1, at + radius)];
        let sum = 0;
        for (let one = low; one <= high; one += 1) sum += from[line * lineStep + one * step]!;
        out[line * lineStep + at * step] = sum / (high - low + 1);
      }
    return out;
  };
  const across = along(values, width, height, 1, width);
  return along(across, height, width, width, 1);
}
