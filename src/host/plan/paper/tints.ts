/** Tints of groups from light to dark, and what is read on them: the edge and the letter say the same without colour. */
import { INK, WHITE } from './pen.js';

const STEPS = [
  [0xe6, 0xd7, 0xa3],
  [0x83, 0xa2, 0xb3],
  [0x2d, 0x47, 0x57],
] as const;

export interface Tint {
  readonly fill: string;
  readonly letter: string;
}

export function tintOf(tone: number): Tint {
  const place = tone * (STEPS.length - 1);
  const [low, high] = [STEPS[Math.floor(place)]!, STEPS[Math.ceil(place)]!];
  const share = place - Math.floor(place);
  const mixed = low.map((part, i) => Math.round(part + (high[i]! - part) * share));
  const fill = `#${mixed.map((part) => part.toString(16).padStart(2, '0')).join('')}`;
  return { fill, letter: luminanceOf(mixed) < 0.18 ? WHITE : INK };
}

/** Relative luminance of sRGB, WCAG 2.2. */
function luminanceOf(parts: readonly number[]): number {
  const [r, g, b] = parts.map((part) => {
    const share = part / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
