/**
 * How alike two small grey pictures are where one may be the other cut, toned, sharpened or made grey: the greatest
 * normalised cross-correlation of their gradients over place and scale of the cut (the measure of "Fast normalized
 * cross-correlation", Vision Interface 1995, eq. 2, on gradient vectors in place of grey values). A tone curve changes
 * how strong an edge is and not which way it goes, so each vector counts with the root of its length. Not found: pictures
 * turned by more than a few degrees, mirrored, or cut to less than half. 1 is the same; unrelated pictures are near 0.
 */

export interface SmallGrey {
  readonly width: number;
  readonly height: number;
  /** One byte a pixel. */
  readonly data: Uint8Array;
}

/** Long edge at which frames are compared. */
export const COMPARED_EDGE_PX = 64;
/** Long edge at which a picture that came back is read: its cut is scaled down from it. */
export const RETURNED_EDGE_PX = 128;
const LEAST_CUT = 0.5;
const SCALE_STEP = 0.94;

/** Gradients of a picture, with the squared lengths summed from the upper left corner. */
export interface Outlines {
  readonly width: number;
  readonly height: number;
  readonly x: Float32Array;
  readonly y: Float32Array;
  readonly sums: Float64Array;
}

/** @param frame the outlines of a whole frame, 64 px; of half as many the answer is rough, and comes in a sixteenth of the time */
export function likeness(frame: Outlines, returned: SmallGrey): number {
  return cutsOf(returned, frame).reduce((best, cut) => Math.max(best, bestPlace(frame, cut)), 0);
}

type Size = Pick<Outlines, 'width' | 'height'>;

/** One picture is compared with all frames of a day, which are of few sizes. */
const cutsKnown = new WeakMap<SmallGrey, Map<string, readonly Outlines[]>>();

/** What came back, as large as each cut of a frame of that size. */
function cutsOf(returned: SmallGrey, frame: Size): readonly Outlines[] {
  const known = cutsKnown.get(returned) ?? new Map<string, readonly Outlines[]>();
  cutsKnown.set(returned, known);
  const key = `${frame.width} ${frame.height}`;
  const cuts: Outlines[] = [];
  for (let scale = largestCut(frame, returned); scale >= LEAST_CUT && !known.has(key); scale *= SCALE_STEP) {
    cuts.push(cutOutlines(frame, returned, scale));
  }
  const found = known.get(key) ?? cuts;
  known.set(key, found);
  return found;
}

/** As a share of the frame's width. */
const largestCut = (frame: Size, { width, height }: SmallGrey): number =>
  Math.min(1, (frame.height * width) / (height * frame.width));

function cutOutlines(frame: Size, returned: SmallGrey, scale: number): Outlines {
  const width = Math.max(3, Math.round(scale * frame.width));
  const height = Math.max(3, Math.min(frame.height, Math.round((width * returned.height) / returned.width)));
  return outlinesOf(shrunk(returned, width, height));
}

function bestPlace(frame: Outlines, cut: Outlines): number {
  const own = Math.sqrt(cut.sums.at(-1)!);
  if (own === 0) return 0;
  let best = 0;
  for (let top = 0; top + cut.height <= frame.height; top += 1) {
    for (let left = 0; left + cut.width <= frame.width; left += 1) {
      const there = Math.sqrt(Math.max(0, sumIn(frame, left, top, cut.width, cut.height)));
      if (there > 0) best = Math.max(best, productAt(frame, cut, left, top) / (own * there));
    }
  }
  return best;
}

function productAt(frame: Outlines, cut: Outlines, left: number, top: number): number {
  let sum = 0;
  for (let row = 0; row < cut.height; row += 1) {
    const from = (top + row) * frame.width + left;
    const own = row * cut.width;
    for (let column = 0; column < cut.width; column += 1) {
      sum += frame.x[from + column]! * cut.x[own + column]! + frame.y[from + column]! * cut.y[own + column]!;
    }
  }
  return sum;
}

/** Central differences; each vector keeps its way and the root of its length. */
export function outlinesOf({ width, height, data }: SmallGrey): Outlines {
  const x = new Float32Array(width * height);
  const y = new Float32Array(width * height);
  for (let row = 1; row < height - 1; row += 1) {
    for (let column = 1; column < width - 1; column += 1) {
      const at = row * width + column;
      const across = data[at + 1]! - data[at - 1]!;
      const down = data[at + width]! - data[at - width]!;
      const root = Math.sqrt(Math.hypot(across, down)) || 1;
      x[at] = across / root;
      y[at] = down / root;
    }
  }
  return { width, height, x, y, sums: sumsOf(x, y, width, height) };
}

function sumsOf(x: Float32Array, y: Float32Array, width: number, height: number): Float64Array {
  const stride = width + 1;
  const sums = new Float64Array(stride * (height + 1));
  for (let row = 0; row < height; row += 1) {
    let along = 0;
    for (let column = 0; column < width; column += 1) {
      const at = row * width + column;
      along += x[at]! ** 2 + y[at]! ** 2;
      sums[(row + 1) * stride + column + 1] = sums[row * stride + column + 1]! + along;
    }
  }
  return sums;
}

function sumIn({ sums, width }: Outlines, left: number, top: number, across: number, down: number): number {
  const stride = width + 1;
  const at = (row: number, column: number) => sums[row * stride + column]!;
  return at(top + down, left + across) - at(top, left + across) - at(top + down, left) + at(top, left);
}

/** Half as many pixels each way. */
export const halved = (picture: SmallGrey): SmallGrey =>
  shrunk(picture, Math.max(3, Math.round(picture.width / 2)), Math.max(3, Math.round(picture.height / 2)));

/** By the mean of what falls into each pixel. */
function shrunk({ width, height, data }: SmallGrey, toWidth: number, toHeight: number): SmallGrey {
  const out = new Uint8Array(toWidth * toHeight);
  for (let row = 0; row < toHeight; row += 1) {
    const [top, bottom] = spanOf(row, toHeight, height);
    for (let column = 0; column < toWidth; column += 1) {
      const [left, right] = spanOf(column, toWidth, width);
      let sum = 0;
      for (let y = top; y < bottom; y += 1) for (let x = left; x < right; x += 1) sum += data[y * width + x]!;
      out[row * toWidth + column] = Math.round(sum / ((bottom - top) * (right - left)));
    }
  }
  return { width: toWidth, height: toHeight, data: out };
}

const spanOf = (index: number, parts: number, length: number): readonly [number, number] => {
  const from = Math.min(length - 1, Math.floor((index * length) / parts));
  return [from, Math.max(from + 1, Math.min(length, Math.round(((index + 1) * length) / parts)))];
};
