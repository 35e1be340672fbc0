/** Pictures drawn for tests: nothing here is a photograph. Pure, so that a drawing is the same everywhere. */
import { codeOf, LINEAR_OF_BYTE } from '../numeric/colour.js';
import type { GreyImage, RgbImage } from './images.js';

export type Rgb = readonly [red: number, green: number, blue: number];

export function drawRgb(width: number, height: number, colourAt: (x: number, y: number) => Rgb): RgbImage {
  const data = new Uint8Array(3 * width * height);
  for (let y = 0, to = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1, to += 3) data.set(colourAt(x, y), to);
  }
  return { data, width, height };
}

/** A repeatable value 0–1 for a place, without pattern to the eye. */
export function grain(x: number, y: number, seed = 1): number {
  let state = Math.imul(x + 1, 0x9e3779b1) ^ Math.imul(y + 1, 0x85ebca6b) ^ Math.imul(seed, 0xc2b2ae35);
  state = Math.imul(state ^ (state >>> 15), 0x2c1b3c6d);
  state = Math.imul(state ^ (state >>> 12), 0x297a2d39);
  return ((state ^ (state >>> 15)) >>> 0) / 2 ** 32;
}

/** Rings, spokes and bars on grey: edges in every direction, as a bike has. Supersampled, so edges are one pixel wide. */
export function drawMachine(size: number): GreyImage {
  const samples = 4;
  const data = new Float32Array(size * size);
  for (let y = 0; y < size; y += 1) {
    for (let x = 0; x < size; x += 1) {
      let sum = 0;
      for (let sample = 0; sample < samples * samples; sample += 1) {
        const u = (x + ((sample % samples) + 0.5) / samples) / size - 0.5;
        const v = (y + (Math.floor(sample / samples) + 0.5) / samples) / size - 0.5;
        sum += machineAt(u, v);
      }
      data[y * size + x] = sum / (samples * samples);
    }
  }
  return { data, width: size, height: size };
}

function machineAt(u: number, v: number): number {
  const radius = Math.hypot(u, v);
  const ring = Math.floor(radius * 12);
  const spoke = Math.floor(((Math.atan2(v, u) + Math.PI) / (2 * Math.PI)) * 16);
  return 40 + 60 * (ring % 3) + 35 * (spoke % 2);
}

/** Adds noise of the given standard deviation (uniform, variance matched). */
export function withNoise(image: GreyImage, deviation: number, seed: number): GreyImage {
  const reach = deviation * Math.sqrt(12);
  const data = Float32Array.from(image.data, (value, index) => value + reach * (grain(index, 7, seed) - 0.5));
  return { ...image, data };
}

/** Averages `length` pixels along a direction, as a shutter does over a moving subject. */
export function moved(image: GreyImage, length: number, [stepX, stepY]: readonly [number, number]): GreyImage {
  const { width, height, data } = image;
  const at = (x: number, y: number) =>
    data[Math.min(height - 1, Math.max(0, y)) * width + Math.min(width - 1, Math.max(0, x))]!;
  const result = new Float32Array(data.length);
  const half = Math.floor(length / 2);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      let sum = 0;
      for (let k = -half; k < length - half; k += 1) sum += at(x + k * stepX, y + k * stepY);
      result[y * width + x] = sum / length;
    }
  }
  return { width, height, data: result };
}

/** Missed focus: three box averages each way, close to a Gaussian. */
export function defocused(image: GreyImage, radius: number): GreyImage {
  let result = image;
  for (let pass = 0; pass < 3; pass += 1) {
    result = moved(moved(result, 2 * radius + 1, [1, 0]), 2 * radius + 1, [0, 1]);
  }
  return result;
}

/** A paint under tinted light: `tint` multiplies linear red, green, blue. */
export function underLight(paint: Rgb, tint: readonly [number, number, number]): Rgb {
  const channel = (index: 0 | 1 | 2) =>
    Math.round(255 * codeOf(Math.min(1, LINEAR_OF_BYTE[paint[index]]! * tint[index])));
  return [channel(0), channel(1), channel(2)];
}
