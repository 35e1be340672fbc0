/**
 * What stands between camera and bike: a nearer bike or a person by where the boxes meet the ground, and a post or somebody
 * near by a column of the picture that is one even colour from below the bike up through most of it, where a bike never is.
 */
import type { RgbImage } from '../measure/index.js';
import type { Box } from '../measure/types.js';
import type { InFront, JudgedSubject } from './types.js';

/** Columns this far apart are looked at, share of the subject's width. */
const COLUMN_STEP = 0.008;
/** How much of the subject's height an even column covers at least. */
const LEAST_RUN = 0.62;
/** Of a column, how far its colour wanders: code values, summed over red, green and blue. */
const EVEN = 42;
/** Rows at the ends of the box say nothing: the ground and the sky are even, too. */
const LEAST_COLUMNS = 3;
const ROWS = 120;

/** @param box of the subject in the picture's pixels */
export function evenColumns(picture: RgbImage, box: Box): { readonly share: number; readonly box: Box } | null {
  const [left, top, width, height] = box;
  const step = Math.max(1, COLUMN_STEP * width);
  const covered: number[] = [];
  for (let x = left + 0.04 * width; x < left + 0.96 * width; x += step) {
    if (runFromBelow(picture, Math.round(x), top, height) >= LEAST_RUN) covered.push(x);
  }
  const band = widestBand(covered, 2.5 * step);
  if (band === null || band.count < LEAST_COLUMNS) return null;
  return { share: (band.to - band.from + step) / width, box: [band.from, top, band.to - band.from + step, height] };
}

/** Longest stretch of one colour that begins at the foot of the box, as a share of its height. */
function runFromBelow({ data, width, height }: RgbImage, x: number, top: number, boxHeight: number): number {
  if (x < 0 || x >= width) return 0;
  const from = Math.min(height - 1, Math.round(top + boxHeight * 1.02));
  const stride = Math.max(1, Math.round(boxHeight / ROWS));
  let [red, green, blue, count] = [0, 0, 0, 0];
  let y = from;
  for (; y >= Math.max(0, top); y -= stride) {
    const at = (y * width + x) * 3;
    const [r, g, b] = [data[at]!, data[at + 1]!, data[at + 2]!];
    const away = Math.abs(r - red / count) + Math.abs(g - green / count) + Math.abs(b - blue / count);
    if (count > 0 && away > EVEN) break;
    red += r;
    green += g;
    blue += b;
    count += 1;
  }
  return (from - y) / boxHeight;
}

function widestBand(
  columns: readonly number[],
  gap: number,
): { readonly from: number; readonly to: number; readonly count: number } | null {
  let best: { from: number; to: number; count: number } | null = null;
  let band: { from: number; to: number; count: number } | null = null;
  for (const x of columns) {
    if (band !== null && x - band.to <= gap) {
      band.to = x;
      band.count += 1;
    } else band = { from: x, to: x, count: 1 };
    if (best === null || band.to - band.from > best.to - best.from) best = band;
  }
  return best;
}

/** Its foot is not higher on the picture than the subject's by more than this share of the subject's height: nearer. */
const NOT_FARTHER = 0.03;
const LEAST_OVERLAP = 0.02;

/** Bikes and people that are nearer and lie over the subject's box. */
export function nearerOnes({ box }: JudgedSubject, others: readonly JudgedSubject[]): readonly InFront[] {
  return others.flatMap((other): readonly InFront[] => {
    const foot = other.box[1] + other.box[3];
    if (foot < box[1] + box[3] * (1 - NOT_FARTHER)) return [];
    const where = meet(box, other.box);
    const share = (where[2] * where[3]) / (box[2] * box[3]);
    if (share < LEAST_OVERLAP) return [];
    return [{ what: other.what === 'person' ? 'person' : 'bike', share, where }];
  });
}

function meet(a: Box, b: Box): Box {
  const left = Math.max(a[0], b[0]);
  const top = Math.max(a[1], b[1]);
  const right = Math.min(a[0] + a[2], b[0] + b[2]);
  const bottom = Math.min(a[1] + a[3], b[1] + b[3]);
  return [left, top, Math.max(0, right - left), Math.max(0, bottom - top)];
}
