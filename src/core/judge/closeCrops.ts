/** Where to cut for a close look: the bike with a margin, and squares around its parts that show every bike at one scale. */
import { type PixelRect, rectOf } from '../measure/images.js';
import type { Box } from '../measure/types.js';
import type { Judged } from './types.js';

/** Around the subject, of its own size: what stands in front of it shows above and below. */
const CROP_MARGIN = 0.15;
/** Side of a part's square over the height of bike and rider: a helmet fills half of it. */
const PART_SHARE = 0.36;

export interface PictureSize {
  readonly width: number;
  readonly height: number;
}

export interface PartSquare {
  readonly what: 'helmet' | 'number' | 'tail';
  readonly rect: PixelRect;
  readonly edgePx: number | null;
}

/** In pixels of the upright picture. */
export const cropAround = (box: Box, size: PictureSize): PixelRect => rectOf(box, size, CROP_MARGIN);

export const boxOfRect = ({ left, top, right, bottom }: PixelRect, { width, height }: PictureSize): Box => [
  left / width,
  top / height,
  (right - left) / width,
  (bottom - top) / height,
];

/** The rear end lies so far in from the side it is on, and from the top: of the bike's width and height. */
const TAIL = { in: 0.15, down: 0.4 } as const;

/**
 * Each lies inside the crop around the bike, so that it can be cut out of that one.
 * @param heads where the bike goes in the picture, as the drawing of the circuit says, for what no burst told; null: nobody knows
 */
export function partSquares(
  box: Box,
  { focus, side: seen }: Judged,
  size: PictureSize,
  heads: 'left' | 'right' | null,
): readonly PartSquare[] {
  const areas = focus.kind === 'focus' ? focus.areas : [];
  const helmet = areas.find(({ what }) => what === 'helmet');
  const number = areas.find(({ what }) => what === 'number');
  const whole = cropAround(box, size);
  const side = Math.round(PART_SHARE * box[3] * size.height);
  const parts = [helmet, number].flatMap((area): readonly PartSquare[] =>
    area === undefined
      ? []
      : [{ what: area.what, rect: squareAround(middleOf(area.box), side, whole, size), edgePx: area.edgePx ?? null }],
  );
  const towards = seen.kind === 'told' ? seen.is : heads;
  if (towards === null) return parts;
  const rear = [box[0] + box[2] * (towards === 'right' ? TAIL.in : 1 - TAIL.in), box[1] + box[3] * TAIL.down] as const;
  return [...parts, { what: 'tail', rect: squareAround(rear, side, whole, size), edgePx: null }];
}

const middleOf = ([left, top, width, height]: Box): readonly [number, number] => [left + width / 2, top + height / 2];

function squareAround(
  [middleX, middleY]: readonly [number, number],
  side: number,
  whole: PixelRect,
  size: PictureSize,
): PixelRect {
  const along = (middle: number, from: number, to: number): readonly [number, number] => {
    const length = Math.min(Math.max(1, side), to - from);
    const start = Math.round(Math.min(to - length, Math.max(from, middle - length / 2)));
    return [start, start + length];
  };
  const [x0, x1] = along(middleX * size.width, whole.left, whole.right);
  const [y0, y1] = along(middleY * size.height, whole.top, whole.bottom);
  return { left: x0, top: y0, right: x1, bottom: y1 };
}
