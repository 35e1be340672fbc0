/** From linear light to a picture: exposure, glow, vignette, a film-like curve, grain, a little sharpening, sRGB. */
import { softened } from './blur.js';
import { clamp, mix, pow } from './maths.js';

const SRGB = new Uint8Array(4097);
for (let i = 0; i <= 4096; i++) {
  const c = i / 4096;
  SRGB[i] = Math.round(255 * clamp(c <= 0.0031308 ? 12.92 * c : 1.055 * pow(c, 1 / 2.4) - 0.055));
}

/** A rational fit of a film's response (K. Narkowicz, "ACES filmic tone mapping curve", 2016). */
const filmed = (x: number): number => clamp((x * (2.51 * x + 0.03)) / (x * (2.43 * x + 0.59) + 0.14));

const BASE_EXPOSURE = 0.72;
const GLOW_CELL = 8;

interface Glow {
  readonly columns: number;
  readonly light: Float32Array;
}
function glowOf(linear: Float32Array, width: number, height: number, exposure: number): Glow {
  const columns = Math.ceil(width / GLOW_CELL) + 1;
  const rows = Math.ceil(height / GLOW_CELL) + 1;
  const light = new Float32Array(columns * rows * 3);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (let c = 0; c < 3; c++) {
        const v = linear[(y * width + x) * 3 + c]! * exposure;
        const cell = ((y >> 3) * columns + (x >> 3)) * 3 + c;
        light[cell]! += (v > 1.1 ? Math.min(v - 1.1, 6) * 0.16 : 0) / 64 + v * 0.0002;
      }
  return { columns, light: softened(light, columns, rows, 3, 2, 2) };
}

function glowAt({ columns, light }: Glow, x: number, y: number, channel: number): number {
  const u = Math.max(0, (x + 0.5) / GLOW_CELL - 0.5);
  const v = Math.max(0, (y + 0.5) / GLOW_CELL - 0.5);
  const o = (Math.floor(v) * columns + Math.floor(u)) * 3 + channel;
  const top = mix(light[o]!, light[o + 3]!, u - Math.floor(u));
  const bottom = mix(light[o + columns * 3]!, light[o + columns * 3 + 3]!, u - Math.floor(u));
  return mix(top, bottom, v - Math.floor(v));
}

/** `linear` holds RGB light, three numbers a pixel; the result three bytes a pixel. */
export function tonesOf(linear: Float32Array, width: number, height: number, ev: number, seed: number): Uint8Array {
  const exposure = BASE_EXPOSURE * pow(2, ev);
  const glow = glowOf(linear, width, height, exposure);
  const toned = new Float32Array(linear.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const o = (y * width + x) * 3;
      const dx = (x / width - 0.5) * 2;
      const dy = ((y / height - 0.5) * 2 * height) / width;
      const corner = Math.min(1, (dx * dx + dy * dy) * 0.75);
      const vignette = 1 - 0.18 * corner * Math.sqrt(corner);
      for (let c = 0; c < 3; c++)
        toned[o + c] = filmed((linear[o + c]! * exposure + glowAt(glow, x, y, c) + 0.001) * vignette);
    }
  return printed(toned, width, height, seed);
}

const GRAIN = 0.014;
const SHARPENING = 0.06;

function printed(toned: Float32Array, width: number, height: number, seed: number): Uint8Array {
  const out = new Uint8Array(toned.length);
  let state = (Math.imul(seed, 2654435761) >>> 0) | 1;
  const random = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 4294967296;
  };
  let before = 0;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const o = (y * width + x) * 3;
      const fresh = random() + random() - 1;
      const grain = mix(fresh, before, 0.35) * GRAIN;
      before = fresh;
      const left = x > 0 ? o - 3 : o;
      const right = x < width - 1 ? o + 3 : o;
      const above = y > 0 ? o - width * 3 : o;
      const below = y < height - 1 ? o + width * 3 : o;
      let edge = 0;
      for (let c = 0; c < 3; c++)
        edge += toned[o + c]! * 4 - toned[left + c]! - toned[right + c]! - toned[above + c]! - toned[below + c]!;
      const sharpen = clamp(edge * SHARPENING, -0.1, 0.1);
      for (let c = 0; c < 3; c++) {
        const v = toned[o + c]!;
        const done = v + sharpen * (0.15 + v) + grain * Math.sqrt(Math.max(v, 0.0015)) * (0.35 + 0.65 * Math.sqrt(v));
        out[o + c] = SRGB[Math.floor(clamp(done) * 4096)]!;
      }
    }
  return out;
}
