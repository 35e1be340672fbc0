/**
 * A crop of a given shape about a bike: nothing of bike or rider is cut, there is room ahead of it, and the bike takes as much of the
 * picture as it may. Where that cannot be, the picture stays whole: a wrong crop is worse than none.
 */
import type { Box } from '../../measure/types.js';
import type { Ratio } from '../finishes/types.js';
import { WIDTH_OVER_HEIGHT } from './shapes.js';
import type { Crop, CropInput } from './types.js';

/** Room on every side of bike and rider, share of the larger of their sides. */
const MARGIN = 0.06;
/** Of the crop's width or height the subject takes at most this much. */
const MOST_OF_CROP = 0.68;
/** More of the picture above the subject than below it, by this: wheels stand on something. */
const ABOVE_SHARE = 0.55;
/** Nearer to the picture's edge than this share of it, the bike is taken to be cut by it. */
const AT_EDGE = 0.002;

export function cropTo(ratio: Ratio, { size, subjects, heading, leadRoom }: CropInput): Crop {
  if (subjects.length === 0) return { kind: 'kept-whole', why: 'nothing-found' };
  const all = around(subjects);
  if (isCut(all)) return { kind: 'kept-whole', why: 'cut-already' };
  const [pictureWidth, pictureHeight] = [size.widthPx, size.heightPx];
  const subject = {
    x: all[0] * pictureWidth,
    y: all[1] * pictureHeight,
    w: all[2] * pictureWidth,
    h: all[3] * pictureHeight,
  };
  const margin = MARGIN * Math.max(subject.w, subject.h);
  const shape = WIDTH_OVER_HEIGHT[ratio];
  const [leastWidth, leastHeight] = [subject.w + 2 * margin, subject.h + 2 * margin];
  const wanted = Math.max(
    leastWidth,
    shape * leastHeight,
    subject.w / MOST_OF_CROP,
    (shape * subject.h) / MOST_OF_CROP,
  );
  const most = Math.min(pictureWidth, shape * pictureHeight);
  const width = Math.min(wanted, most);
  const height = width / shape;
  if (width + 1e-6 < subject.w) return { kind: 'kept-whole', why: 'too-wide' };
  if (height + 1e-6 < subject.h) return { kind: 'kept-whole', why: 'too-tall' };
  const behind = (width - subject.w) / (1 + leadRoom);
  const leftOf =
    heading === 'right' ? behind : heading === 'left' ? width - subject.w - behind : (width - subject.w) / 2;
  const left = placed(subject.x - Math.max(leftOf, 0), width, pictureWidth, subject.x, subject.w, margin);
  const top = placed(
    subject.y - ABOVE_SHARE * (height - subject.h),
    height,
    pictureHeight,
    subject.y,
    subject.h,
    margin,
  );
  const box: Box = [left / pictureWidth, top / pictureHeight, width / pictureWidth, height / pictureHeight];
  return { kind: 'crop', box, source: 'rule' };
}

/** Inside the picture, and with the margin kept on both sides where there is room for it. */
function placed(from: number, length: number, picture: number, start: number, extent: number, margin: number): number {
  const room = Math.min(margin, (length - extent) / 2);
  const held = Math.min(start - room, Math.max(start + extent + room - length, from));
  return Math.min(picture - length, Math.max(0, held));
}

function around(boxes: readonly Box[]): Box {
  const left = Math.min(...boxes.map((box) => box[0]));
  const top = Math.min(...boxes.map((box) => box[1]));
  const right = Math.max(...boxes.map((box) => box[0] + box[2]));
  const bottom = Math.max(...boxes.map((box) => box[1] + box[3]));
  return [left, top, right - left, bottom - top];
}

const isCut = ([left, top, width, height]: Box): boolean =>
  left <= AT_EDGE || top <= AT_EDGE || left + width >= 1 - AT_EDGE || top + height >= 1 - AT_EDGE;
