/**
 * How far a picture is tilted, from what stands upright in it: posts, fence poles, walls of huts, edges of boards.
 * Bikes lean and are left out, and so is all that lies near them. Lines that rise slowly across the picture say nothing: kerbs and
 * barriers run away from the camera, and a camera that follows a bike draws everything out along its way. So uprights speak, and only
 * where several stand apart and agree; else nothing is said, and nothing turned.
 *
 * An edge is followed row by row to a part of a pixel, and counts where a straight line fits it.
 */
import { type GreyImage, greyOf, type RgbImage } from './images.js';
import type { Box } from './types.js';

export type Tilt =
  /** Clockwise, the turn that sets it level. */
  | { readonly kind: 'told'; readonly turnDeg: number; readonly by: number; readonly spreadDeg: number }
  | { readonly kind: 'unsure'; readonly why: 'no-uprights' | 'uprights-disagree' };

/** A hand tilts a camera by no more; steeper lines are something else. */
const MOST_TILT_DEG = 4;
/** An upright's edge is at least as long as this share of the picture's height, without a gap. */
const LEAST_LENGTH = 0.09;
const LEAST_GRADIENT = 14;
/** Uprights stand apart by this share of the width; edges of one post are one. */
const APART = 0.02;
const LEAST_UPRIGHTS = 4;
/** They agree to within this, middle of their distances from their middle. */
const MOST_SPREAD_DEG = 0.45;
/** Grown around bikes, share of their size. */
const AROUND_BIKES = 0.15;

interface Upright {
  /** Column at the middle of its length. */
  readonly x: number;
  readonly deg: number;
  readonly length: number;
}

export function tellTilt(image: RgbImage, bikes: readonly Box[]): Tilt {
  const uprights = apart(findUprights(greyOf(image), bikes), APART * image.width);
  if (uprights.length < LEAST_UPRIGHTS) return { kind: 'unsure', why: 'no-uprights' };
  const middle = weightedMiddle(uprights);
  const spreadDeg = middleOf(uprights.map(({ deg }) => Math.abs(deg - middle)));
  if (spreadDeg > MOST_SPREAD_DEG) return { kind: 'unsure', why: 'uprights-disagree' };
  return { kind: 'told', turnDeg: -middle, by: uprights.length, spreadDeg };
}

/** Chains of pixels down the picture whose gradients point across: followed row by row, a straight line laid through each. */
function findUprights(grey: GreyImage, bikes: readonly Box[]): readonly Upright[] {
  const { width, height } = grey;
  const across = gradientAcross(grey);
  const isHidden = hiddenBy(bikes, width, height);
  const leastLength = LEAST_LENGTH * height;
  const used = new Uint8Array(width * height);
  const uprights: Upright[] = [];
  for (let y = 1; y < height - 1; y += 1)
    for (let x = 2; x < width - 2; x += 1) {
      const at = y * width + x;
      if (used[at] || !isPeak(across, at) || isHidden(x, y)) continue;
      const chain = follow(across, x, y, width, height, used, isHidden);
      if (chain.length < leastLength) continue;
      const upright = fitted(chain, y);
      if (upright && Math.abs(upright.deg) <= MOST_TILT_DEG) uprights.push(upright);
    }
  return uprights;
}

/** Signed step from left to right, over three rows. */
function gradientAcross({ data, width, height }: GreyImage): Int16Array {
  const out = new Int16Array(width * height);
  for (let y = 1; y < height - 1; y += 1)
    for (let at = y * width + 1, end = (y + 1) * width - 1; at < end; at += 1)
      out[at] =
        (data[at + 1 - width]! +
          2 * data[at + 1]! +
          data[at + 1 + width]! -
          data[at - 1 - width]! -
          2 * data[at - 1]! -
          data[at - 1 + width]!) >>
        2;
  return out;
}

const isPeak = (across: Int16Array, at: number): boolean => {
  const own = Math.abs(across[at]!);
  return own >= LEAST_GRADIENT && own >= Math.abs(across[at - 1]!) && own > Math.abs(across[at + 1]!);
};

/** Down from a pixel, to the strongest step of the same sign within one column; where it lies between columns by a parabola. */
function follow(
  across: Int16Array,
  fromX: number,
  fromY: number,
  width: number,
  height: number,
  used: Uint8Array,
  isHidden: (x: number, y: number) => boolean,
): number[] {
  const sign = Math.sign(across[fromY * width + fromX]!);
  const chain: number[] = [];
  let x = fromX;
  for (let y = fromY; y < height - 1; y += 1) {
    const row = y * width;
    let best = -1;
    let most = LEAST_GRADIENT;
    for (let other = Math.max(1, x - 1); other <= Math.min(width - 2, x + 1); other += 1) {
      const value = sign * across[row + other]!;
      if (value >= most) [best, most] = [other, value + 1];
    }
    if (best === -1 || used[row + best] || isHidden(best, y)) break;
    used[row + best] = 1;
    const [left, own, right] = [-1, 0, 1].map((step) => sign * across[row + best + step]!) as [number, number, number];
    const bend = left - 2 * own + right;
    chain.push(best + (bend < 0 ? Math.max(-0.5, Math.min(0.5, (left - right) / (2 * bend))) : 0));
    x = best;
  }
  return chain;
}

/** Least squares; null where it is no straight line. */
function fitted(chain: readonly number[], fromY: number): Upright | null {
  const n = chain.length;
  const meanY = (n - 1) / 2;
  const meanX = chain.reduce((sum, x) => sum + x, 0) / n;
  let [along, square] = [0, 0];
  for (const [index, x] of chain.entries()) {
    along += (index - meanY) * (x - meanX);
    square += (index - meanY) ** 2;
  }
  const slope = along / square;
  const off = Math.sqrt(chain.reduce((sum, x, index) => sum + (x - meanX - slope * (index - meanY)) ** 2, 0) / n);
  if (off > MOST_OFF_PX || fromY < 0) return null;
  // Down the picture and to the left is leaning clockwise: its top lies to the right.
  return { x: meanX, deg: (-Math.atan(slope) * 180) / Math.PI, length: n };
}
const MOST_OFF_PX = 0.45;

function hiddenBy(bikes: readonly Box[], width: number, height: number): (x: number, y: number) => boolean {
  const grown = bikes.map(([left, top, across, down]) => ({
    left: (left - AROUND_BIKES * across) * width,
    right: (left + (1 + AROUND_BIKES) * across) * width,
    top: (top - AROUND_BIKES * down) * height,
    bottom: (top + (1 + AROUND_BIKES) * down) * height,
  }));
  return (x, y) => grown.some((box) => x >= box.left && x <= box.right && y >= box.top && y <= box.bottom);
}

/** The longest of those that stand in one place. */
function apart(uprights: readonly Upright[], leastPx: number): readonly Upright[] {
  const kept: Upright[] = [];
  for (const one of uprights.toSorted((a, b) => b.length - a.length))
    if (kept.every((other) => Math.abs(other.x - one.x) >= leastPx)) kept.push(one);
  return kept;
}

function weightedMiddle(uprights: readonly Upright[]): number {
  const sorted = uprights.toSorted((a, b) => a.deg - b.deg);
  const half = sorted.reduce((sum, { length }) => sum + length, 0) / 2;
  let seen = 0;
  for (const { deg, length } of sorted) {
    seen += length;
    if (seen >= half) return deg;
  }
  return 0;
}

const middleOf = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1]!;
