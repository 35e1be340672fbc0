/** Named paints, in linear light. Plain names a rider would use, so that truth can be compared with what is measured. */
import type { ColourName } from '../../src/core/measure/types.js';
import { pow } from './maths.js';

/** Linear RGB, 0–1 for paint, beyond for light and for paint that is fluorescent. */
export type Rgb = readonly [number, number, number];

const linear = (v: number): number => (v <= 0.04045 ? v / 12.92 : pow((v + 0.055) / 1.055, 2.4));

/** `#rrggbb` in sRGB (IEC 61966-2-1) to linear light. */
export const rgb = (hex: string): Rgb => {
  const channel = (at: number): number => linear(Number.parseInt(hex.slice(at, at + 2), 16) / 255);
  return [channel(1), channel(3), channel(5)];
};

export const PAINTS: Readonly<Record<ColourName, Rgb>> = {
  black: rgb('#151618'),
  white: rgb('#e6e6e3'),
  grey: rgb('#787b7e'),
  silver: rgb('#b4b7ba'),
  red: rgb('#c4101f'),
  orange: rgb('#ee6400'),
  yellow: rgb('#f0c000'),
  lime: rgb('#86d000'),
  green: rgb('#0b7d3e'),
  teal: rgb('#009c9c'),
  blue: rgb('#0c4fc4'),
  navy: rgb('#0e1b42'),
  purple: rgb('#6a22a8'),
  pink: rgb('#e82488'),
  brown: rgb('#5e3a20'),
  // Middles of the chromaticity boxes of EN ISO 20471 (as far as sRGB reaches) at luminance factors of 0.93, 0.45 and 0.29.
  'fluorescent yellow': [0.72, 1.08, 0],
  'fluorescent orange': [1.65, 0.14, 0.01],
  'fluorescent red': [1.35, 0.01, 0.012],
};

/**
 * Other paints under the same names, for pictures that nets are taught on: the fifteen above are only one shade of each.
 * `PAINTS` is changed in place until the returned function is called.
 */
export function repaint(shades: Readonly<Partial<Record<ColourName, Rgb>>>): () => void {
  const before = { ...PAINTS };
  Object.assign(PAINTS, shades);
  return () => void Object.assign(PAINTS, before);
}

export const luminance = (c: Rgb): number => 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2];
