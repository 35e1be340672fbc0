/**
 * Frames of one pass that show the same picture: the bike as large, where it was, and seen as wide. Of such a cluster one is shown.
 */
import type { Box } from '../measure/types.js';

export interface Placed {
  readonly box: Box;
}

/** Heights, and widths over heights, that differ by less than this share look the same; so does a place that moved by less. */
const SAME_SIZE = 0.12;
const SAME_SHAPE = 0.12;
const SAME_PLACE = 0.08;

export function looksTheSame({ box: a }: Placed, { box: b }: Placed): boolean {
  const apart = (p: number, q: number): number => Math.abs(Math.log(p / q));
  return (
    apart(a[3], b[3]) < SAME_SIZE &&
    apart(a[2] / a[3], b[2] / b[3]) < SAME_SHAPE &&
    Math.abs(a[0] + a[2] / 2 - b[0] - b[2] / 2) < SAME_PLACE &&
    Math.abs(a[1] + a[3] / 2 - b[1] - b[3] / 2) < SAME_PLACE
  );
}

/** Places in the list, frame after frame: a frame joins the first cluster whose first frame it looks like. */
export function nearDuplicates(frames: readonly Placed[]): readonly (readonly number[])[] {
  const clusters: number[][] = [];
  for (const [index, frame] of frames.entries()) {
    const same = clusters.find(([first]) => looksTheSame(frames[first!]!, frame));
    if (same) same.push(index);
    else clusters.push([index]);
  }
  return clusters;
}
