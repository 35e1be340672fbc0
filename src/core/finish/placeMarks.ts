/** Where the watermark's lines lie: one across each subject, fainter ones between, so that no crop is free of it. */
import type { Box } from '../measure/types.js';
import type { Mark, PixelSize } from './types.js';

const ANGLE_DEG = -14;
const SUBJECT_OPACITY = 0.62;
const REPEAT_OPACITY = 0.2;
/** A mark is as wide as this share of the box it crosses, within shares of the picture's width. */
const SHARE_OF_BOX = 0.85;
const LEAST_SHARE_OF_PICTURE = 0.2;
const MOST_SHARE_OF_PICTURE = 0.6;
/** Repeats: width as a share of the picture's long edge, and the steps between them in their own widths. */
const REPEAT_SHARE = 0.22;
const STEP_ACROSS = 1.35;
const STEP_DOWN = 0.7;

/** @param aspect width ÷ height of the line of text, or of the picture that is the mark. */
export function placeMarks(size: PixelSize, boxes: readonly Box[], aspect: number): readonly Mark[] {
  const over = boxes.map((box) => acrossBox(box, size, aspect));
  return [...over, ...repeats(size, aspect).filter((mark) => !over.some((other) => collide(mark, other, aspect)))];
}

function acrossBox([left, top, width, height]: Box, size: PixelSize, aspect: number): Mark {
  const wanted = width * size.widthPx * SHARE_OF_BOX;
  const least = size.widthPx * LEAST_SHARE_OF_PICTURE;
  // A line of words is far from being as high as this; a round mark would be.
  const most = Math.min(size.widthPx, size.heightPx * aspect) * MOST_SHARE_OF_PICTURE;
  return {
    centreX: (left + width / 2) * size.widthPx,
    centreY: (top + height / 2) * size.heightPx,
    widthPx: Math.min(Math.max(wanted, least), most),
    angleDeg: ANGLE_DEG,
    opacity: SUBJECT_OPACITY,
    over: 'subject',
  };
}

/** Staggered rows over the whole picture. */
function repeats(size: PixelSize, aspect: number): readonly Mark[] {
  const widthPx = Math.max(size.widthPx, size.heightPx) * REPEAT_SHARE * Math.min(1, aspect);
  const across = widthPx * STEP_ACROSS;
  const down = widthPx * Math.max(STEP_DOWN, STEP_ACROSS / aspect);
  const marks: Mark[] = [];
  for (let row = 0; row * down < size.heightPx + down; row++) {
    for (let column = 0; column * across < size.widthPx + across; column++) {
      const centreX = (column + (row % 2) / 2) * across;
      marks.push({
        centreX,
        centreY: row * down,
        widthPx,
        angleDeg: ANGLE_DEG,
        opacity: REPEAT_OPACITY,
        over: 'picture',
      });
    }
  }
  return marks;
}

/** Whether two lines would run into each other; their heights count, so that a repeat may pass close above. */
function collide(a: Mark, b: Mark, aspect: number): boolean {
  const across = Math.abs(a.centreX - b.centreX) < (a.widthPx + b.widthPx) * 0.52;
  const slope = Math.abs(Math.sin((ANGLE_DEG * Math.PI) / 180));
  const heights = (a.widthPx + b.widthPx) / aspect + slope * Math.min(a.widthPx, b.widthPx);
  return across && Math.abs(a.centreY - b.centreY) < heights * 0.6;
}
