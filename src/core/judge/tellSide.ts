/**
 * Which side of the bike is seen, from three frames of one pass in quick succession: what stands behind moves through the picture
 * against the bike, so that the bike heads where it moves to beside it; who sees it head left sees its left side. How far what
 * is behind moved is where the two pictures without the bikes are most alike (normalised cross-correlation: J. P. Lewis, Fast
 * template matching, 1995). Kerbs and fences repeat, so two steps must agree, and a slow burst says nothing: in its gaps more than a
 * picture's width goes by. One picture alone tells no side that holds on real frames: heads hang off to either end of a leaning bike.
 */
import type { GreyImage } from '../measure/images.js';
import type { Absent, Box } from '../measure/types.js';
import type { EpochMs } from '../units.js';
import type { Told } from './types.js';

/** Small pictures of this width are enough, and quick. */
export const SIDE_EDGE_PX = 96;
/** Frames further apart say nothing: twelve a second and more. */
export const MOST_BETWEEN_MS = 84;

export interface SmallFrame {
  readonly at: EpochMs;
  readonly picture: GreyImage;
  readonly box: Box;
  /** All bikes and people, this one among them. */
  readonly boxes: readonly Box[];
}

const LEAST_ALIKE = 0.5;
const LEAST_MOVED = 0.05;
/** Two steps of one pass take the bike as far, but for its turning: difference in shares of the width, per step. */
const STEPS_AGREE = 0.12;
/** Measured on bursts of twenty a second that were rendered for it, and on both clips. */
const CONFIDENCE = 0.9;

/** @param frames of one pass, body and zoom, in time */
export function tellSide(frames: readonly SmallFrame[]): Told<'left' | 'right'> | Absent<'no-burst' | 'not-clear'> {
  const quick = frames.slice(1).every(({ at }, k) => at > frames[k]!.at && at - frames[k]!.at <= MOST_BETWEEN_MS);
  if (frames.length < 3 || !quick) return { kind: 'absent', reason: 'no-burst' };
  const behind = frames.map(behindOf);
  const steps = frames
    .slice(1)
    .map((frame, k) => stepOf(behind[k]!, behind[k + 1]!, middleOf(frame) - middleOf(frames[k]!)));
  const known = steps.filter((step) => step !== null);
  const [least, most] = [Math.min(...known), Math.max(...known)];
  const isClear =
    known.length === steps.length &&
    Math.sign(least) === Math.sign(most) &&
    Math.min(Math.abs(least), Math.abs(most)) >= LEAST_MOVED &&
    most - least <= STEPS_AGREE;
  if (!isClear) return { kind: 'absent', reason: 'not-clear' };
  return { kind: 'told', is: least > 0 ? 'right' : 'left', confidence: CONFIDENCE };
}

const middleOf = ({ box }: SmallFrame): number => box[0] + box[2] / 2;

/** What is behind, with its slow changes along the rows taken out. */
interface Behind {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
  readonly isThere: Uint8Array;
}

const MARGIN = 0.06;
const SMOOTH_PX = 10;

function behindOf({ picture: { data: grey, width, height }, boxes }: SmallFrame): Behind {
  const isThere = new Uint8Array(width * height).fill(1);
  for (const [left, top, across, down] of boxes) {
    const [x0, x1] = [
      Math.max(0, Math.floor((left - MARGIN * across) * width)),
      (left + (1 + MARGIN) * across) * width,
    ];
    const [y0, y1] = [Math.max(0, Math.floor((top - MARGIN * down) * height)), (top + (1 + MARGIN) * down) * height];
    for (let y = y0; y < Math.min(height, y1); y += 1)
      for (let x = x0; x < Math.min(width, x1); x += 1) isThere[y * width + x] = 0;
  }
  const data = new Float32Array(width * height);
  for (let at = 0; at < data.length; at += 1) {
    if (isThere[at] === 0) continue;
    const row = at - (at % width);
    let [sum, count] = [0, 0];
    for (let x = Math.max(row, at - SMOOTH_PX); x <= Math.min(row + width - 1, at + SMOOTH_PX); x += 1) {
      if (isThere[x] === 0) continue;
      sum += grey[x]!;
      count += 1;
    }
    data[at] = grey[at]! - sum / count;
  }
  return { width, height, data, isThere };
}

const MOST_SHIFT = 0.8;
const MOST_RISE_PX = 5;
/** Shifted pictures that have less of this in common are alike by chance. */
const LEAST_COMMON = 0.08;

/** Were the other way nearly as well, a fence or a kerb repeats. */
const OTHER_WAY = 0.9;

/**
 * How far the bike went beside what is behind, share of the width, to the right; null where that is found nowhere again, or nearly
 * as well the other way. @param moved in the picture
 */
function stepOf(a: Behind, b: Behind, moved: number): number | null {
  if (a.width !== b.width || a.height !== b.height) return null;
  const most = Math.round(MOST_SHIFT * a.width);
  const best = { left: { step: 0, alike: 0 }, right: { step: 0, alike: 0 } };
  for (let dx = -most; dx <= most; dx += 1) {
    const step = moved - dx / a.width;
    const way = step < 0 ? 'left' : 'right';
    for (let dy = -MOST_RISE_PX; dy <= MOST_RISE_PX; dy += 1) {
      const alike = alikeAt(a, b, dx, dy);
      if (alike > best[way].alike) best[way] = { step, alike };
    }
  }
  const [first, second] = Object.values(best).sort((p, q) => q.alike - p.alike) as [
    { step: number; alike: number },
    { alike: number },
  ];
  return first.alike < LEAST_ALIKE || second.alike > OTHER_WAY * first.alike ? null : first.step;
}

function alikeAt(a: Behind, b: Behind, dx: number, dy: number): number {
  const { width, height } = a;
  let [ab, aa, bb, count] = [0, 0, 0, 0];
  for (let y = Math.max(0, -dy); y < Math.min(height, height - dy); y += 1)
    for (let x = Math.max(0, -dx); x < Math.min(width, width - dx); x += 1) {
      const [p, q] = [y * width + x, (y + dy) * width + x + dx];
      if (a.isThere[p] === 0 || b.isThere[q] === 0) continue;
      const [u, v] = [a.data[p]!, b.data[q]!];
      ab += u * v;
      aa += u * u;
      bb += v * v;
      count += 1;
    }
  return count < LEAST_COMMON * width * height ? 0 : ab / Math.sqrt(aa * bb + 1e-6);
}
