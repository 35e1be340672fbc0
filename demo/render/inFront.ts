/** What stands between the camera and the bike: a post, or a marshal in orange; near, and so without a sharp edge. */
import type { Rgb } from './colours.js';
import { rgb } from './colours.js';
import { clamp, hypot, mix } from './maths.js';

export interface InFront {
  readonly what: 'post' | 'marshal';
  /** Its middle, in shares of the picture's width. */
  readonly x: number;
  /** A post's width, a marshal's shoulders, likewise. */
  readonly across: number;
  /** Where it begins, in shares of the picture's height; it reaches below the picture. */
  readonly top: number;
  /** Of its edges, pixels. */
  readonly softPx: number;
}

const COLOURS: Readonly<Record<InFront['what'], Rgb>> = { post: rgb('#8b8d8a'), marshal: rgb('#d96a1e') };
const HEAD: Rgb = rgb('#e8e5dc');

/** Lays it over linear light. */
export function standInFront(
  picture: Float32Array,
  width: number,
  height: number,
  light: number,
  { what, x, across, top, softPx }: InFront,
): void {
  const half = (across * width) / 2;
  const head = half * 0.42;
  const shoulders = what === 'marshal' ? top * height + 2 * head : top * height;
  for (let py = 0; py < height; py++)
    for (let px = 0; px < width; px++) {
      const aside = Math.abs(px + 0.5 - x * width);
      const body = cover(Math.max(aside - half, shoulders - py - 0.5), softPx);
      const onHead = what === 'marshal' ? cover(hypot(aside, py + 0.5 - shoulders + head) - head, softPx) : 0;
      const covered = Math.max(body, onHead);
      if (covered <= 0) continue;
      const colour = onHead > body ? HEAD : COLOURS[what];
      // Round things are darker towards their sides.
      const shaded = light * (1 - 0.35 * clamp(aside / half));
      const o = (py * width + px) * 3;
      for (let c = 0; c < 3; c++) picture[o + c] = mix(picture[o + c]!, colour[c]! * shaded, covered);
    }
}

const cover = (distancePx: number, softPx: number): number => clamp(0.5 - distancePx / softPx);
