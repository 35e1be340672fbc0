/**
 * A part of the bike seen through a square window over the crop of the whole: that one is there already, and at 100 % as well. So no
 * picture of its own need come for each helmet, number and tail.
 */
import type { CSSProperties } from 'react';
import type { CropView, PartView } from '../../server/judging/types.js';

/** Rounding of a rectangle to whole pixels lets a part that touches the edge seem to lie beyond it. */
const SLACK = 1e-3;

/** Null: some of it lies outside the whole, and only its own crop shows it. */
export function partInWhole(
  { at: [left, top, width, height] }: Pick<PartView, 'at'>,
  { at: [wholeLeft, wholeTop, wholeWidth, wholeHeight] }: Pick<CropView, 'at'>,
): CSSProperties | null {
  const [x, y] = [left - wholeLeft, top - wholeTop];
  const isInside = x >= -SLACK && y >= -SLACK && x + width <= wholeWidth + SLACK && y + height <= wholeHeight + SLACK;
  if (!isInside) return null;
  return {
    inlineSize: `${(100 * wholeWidth) / width}%`,
    blockSize: `${(100 * wholeHeight) / height}%`,
    insetInlineStart: `${(-100 * x) / width}%`,
    insetBlockStart: `${(-100 * y) / height}%`,
  };
}
