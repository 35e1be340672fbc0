/** What the bike network says of one cut-out: a mask of parts, and what tells this bike from another. */
import type { PixelRect } from './images.js';

/** Chances 0–1 in square planes, row by row, over the cut-out. */
export interface PartsSeen {
  /** Where the cut-out lies in the picture it was taken from, in that picture's pixels. */
  readonly rect: PixelRect;
  /** Bike with its rider. */
  readonly whole: Float32Array;
  /** Leathers, gloves, boots. */
  readonly clothes: Float32Array;
  readonly helmet: Float32Array;
}

/** The same in a picture of another size. */
export const enlarged = (parts: PartsSeen, scale: number): PartsSeen => {
  const { left, top, right, bottom } = parts.rect;
  return { ...parts, rect: { left: left * scale, top: top * scale, right: right * scale, bottom: bottom * scale } };
};

export interface BikeFeatures {
  /** 96 values of unit length, taught so that one bike with its rider is alike from every side and in every light. */
  readonly taught: Float32Array;
  /** The detector's blocks 9 and 13, averaged over three rows of the cut-out, channel by channel: 64 × 3 and 576 × 3. */
  readonly block9: Float32Array;
  readonly block13: Float32Array;
}

export interface BikeSeen {
  readonly parts: PartsSeen;
  readonly features: BikeFeatures;
}

/** What the network is shown beside the subject's box on each side, as a share of the box. */
export const SEEN_MARGIN = 0.1;
export const PARTS_EDGE = 48;

/** Chances of the parts for every pixel of another cut-out of the same picture; 0 outside what the network was shown. */
export interface PartsThere {
  readonly whole: Float32Array;
  /** Of what is the subject, the chance that it is worn, and that it is the helmet. */
  readonly worn: Float32Array;
  readonly helmet: Float32Array;
}

export function partsOver(
  { rect: seen, whole, clothes, helmet }: PartsSeen,
  rect: PixelRect,
  { width, height }: { readonly width: number; readonly height: number },
): PartsThere {
  const columns = stepsAlong(rect.left, rect.right, width, seen.left, seen.right);
  const rows = stepsAlong(rect.top, rect.bottom, height, seen.top, seen.bottom);
  const plane = () => new Float32Array(width * height);
  const there = { whole: plane(), worn: plane(), helmet: plane() };
  for (let y = 0, index = 0; y < height; y += 1) {
    const down = rows[y]!;
    for (let x = 0; x < width; x += 1, index += 1) {
      const across = columns[x]!;
      if (down < 0 || across < 0) continue;
      const share = valueAt(whole, across, down);
      there.whole[index] = share;
      const onHead = valueAt(helmet, across, down);
      const least = Math.max(share, 1e-3);
      there.worn[index] = Math.min(1, (valueAt(clothes, across, down) + onHead) / least);
      there.helmet[index] = Math.min(1, onHead / least);
    }
  }
  return there;
}

/** How much of the outline is helmet, 0–1. */
export function helmetShareOf({ whole, helmet }: PartsSeen): number {
  const sumOf = (plane: Float32Array) => plane.reduce((sum, share) => sum + share, 0);
  return sumOf(helmet) / Math.max(sumOf(whole), 1);
}

/** For every pixel along one side, where its middle lies on the planes' grid; −1 outside. */
function stepsAlong(from: number, to: number, count: number, seenFrom: number, seenTo: number): Float32Array {
  return Float32Array.from({ length: count }, (_, index) => {
    const at = from + ((index + 0.5) * (to - from)) / count;
    if (at < seenFrom || at > seenTo) return -1;
    const step = ((at - seenFrom) / (seenTo - seenFrom)) * PARTS_EDGE - 0.5;
    return Math.min(PARTS_EDGE - 1.001, Math.max(0, step));
  });
}

function valueAt(plane: Float32Array, x: number, y: number): number {
  const [column, row] = [x | 0, y | 0];
  const [right, below] = [x - column, y - row];
  const at = row * PARTS_EDGE + column;
  const upper = plane[at]! + right * (plane[at + 1]! - plane[at]!);
  const lower = plane[at + PARTS_EDGE]! + right * (plane[at + PARTS_EDGE + 1]! - plane[at + PARTS_EDGE]!);
  return upper + below * (lower - upper);
}
