/**
 * The watermark of a proof, drawn once for each width, from outlines or from the photographer's own picture, and laid
 * onto the pixels here: to composite a whole layer costs libvips as much as half the proof, and most of that layer is
 * empty.
 */
import { readFile } from 'node:fs/promises';
import sharp, { type OutputInfo } from 'sharp';
import { type Mark, type PixelSize, placeMarks } from '../../core/finish/index.js';
import type { Box } from '../../core/measure/types.js';
import { type OutlinedText, outlineText } from './outlineText.js';

/** White with a dark edge stands out from light and dark pictures alike. */
const STROKE_UNITS = 26;
/** Widths are rounded up to steps of this share of the picture's width, so that few are ever drawn. */
const STEP = 0.02;
const MOST_KEPT = 64;

/** What is drawn: a line of words, or the photographer's own mark, a PNG that the program made ready. */
export type MarkOf = { readonly text: string } | { readonly file: string };

interface Drawing {
  /** Width ÷ height. */
  readonly aspect: number;
  /** RGBA, turned about its own middle. */
  readonly drawn: (widthPx: number, angleDeg: number) => Promise<{ data: Buffer; info: OutputInfo }>;
}

/** One drawn line: its pixels that are not empty, about its own middle. */
interface Stamp {
  readonly x: Int16Array;
  readonly y: Int16Array;
  /** No pixel is further from the middle, across or down. */
  readonly reachPx: number;
  /** Red, green, blue, alpha of each. */
  readonly rgba: Uint8Array;
}

/** Three bytes a pixel. */
export interface Pixels {
  readonly data: Buffer;
  readonly size: PixelSize;
}

/** Marks the pixels in place. @param boxes upright 0–1 boxes that the mark has to cross */
export async function markPixels(picture: Pixels, boxes: readonly Box[], of: MarkOf): Promise<void> {
  const drawing = await drawingOf(of);
  for (const mark of placeMarks(picture.size, boxes, drawing.aspect)) {
    layOn(picture, await stampOf(drawing, widthOf(mark, picture.size), mark.angleDeg), mark);
  }
}

const widthOf = (mark: Mark, { widthPx }: PixelSize): number =>
  Math.max(1, Math.round(Math.ceil(mark.widthPx / (STEP * widthPx)) * STEP * widthPx));

let last: { readonly key: string; readonly drawing: Promise<Drawing> } | undefined;
/** Of the last drawing. */
const stamps = new Map<string, Promise<Stamp>>();

/** All proofs of a run have the same. */
function drawingOf(of: MarkOf): Promise<Drawing> {
  const key = JSON.stringify(of);
  if (last?.key === key) return last.drawing;
  stamps.clear();
  last = { key, drawing: 'file' in of ? pictureDrawing(of.file) : Promise.resolve(lineDrawing(of.text)) };
  return last.drawing;
}

/** A credit in letters the font lacks still gets a mark: the word alone. */
function lineDrawing(text: string): Drawing {
  const wanted = outlineText(text);
  const isDrawn = wanted.width > 0 && wanted.missing.length * 2 < text.length;
  const line = isDrawn ? wanted : outlineText('proof');
  return { aspect: line.width / line.height, drawn: (widthPx, angleDeg) => drawLine(line, widthPx, angleDeg) };
}

async function pictureDrawing(file: string): Promise<Drawing> {
  const png = await readFile(file);
  const { width, height } = await sharp(png).metadata();
  const drawn: Drawing['drawn'] = async (widthPx, angleDeg) => {
    const { data, info } = await sharp(png).resize({ width: widthPx }).raw().toBuffer({ resolveWithObject: true });
    return sharp(data, { raw: { width: info.width, height: info.height, channels: 4 } })
      .rotate(angleDeg, { background: { r: 0, g: 0, b: 0, alpha: 0 } })
      .raw()
      .toBuffer({ resolveWithObject: true });
  };
  return { aspect: width / height, drawn };
}

function stampOf({ drawn }: Drawing, widthPx: number, angleDeg: number): Promise<Stamp> {
  const key = `${widthPx} ${angleDeg}`;
  const kept = stamps.get(key);
  if (kept) return kept;
  if (stamps.size >= MOST_KEPT) stamps.clear();
  const stamp = drawn(widthPx, angleDeg).then(({ data, info }) => stampFrom(data, info.width, info.height));
  stamps.set(key, stamp);
  return stamp;
}

function drawLine(line: OutlinedText, widthPx: number, angleDeg: number) {
  const scale = widthPx / line.width;
  // The whole line fits whatever its angle.
  const side = Math.ceil(widthPx + line.height * scale) + 4;
  const place = `translate(${side / 2} ${side / 2}) rotate(${angleDeg}) scale(${scale.toFixed(5)}) translate(${(-line.width / 2).toFixed(1)} ${(-line.height / 2).toFixed(1)})`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${side}" height="${side}"><path transform="${place}" d="${line.path}" fill="#fff" stroke="#15191b" stroke-width="${STROKE_UNITS}" paint-order="stroke" stroke-linejoin="round"/></svg>`;
  return sharp(Buffer.from(svg)).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
}

function stampFrom(data: Buffer, width: number, height: number): Stamp {
  const filled: number[] = [];
  for (let pixel = 0; pixel < width * height; pixel += 1) if (data[pixel * 4 + 3]! > 0) filled.push(pixel);
  const rgba = new Uint8Array(filled.length * 4);
  for (const [index, pixel] of filled.entries()) rgba.set(data.subarray(pixel * 4, pixel * 4 + 4), index * 4);
  return {
    x: Int16Array.from(filled, (pixel) => (pixel % width) - (width >> 1)),
    y: Int16Array.from(filled, (pixel) => Math.floor(pixel / width) - (height >> 1)),
    reachPx: Math.max(width, height) / 2 + 1,
    rgba,
  };
}

/** In whole numbers of 1 ÷ 256: a proof has some hundred thousand marked pixels. */
function layOn({ data, size: { widthPx, heightPx } }: Pixels, { x, y, reachPx, rgba }: Stamp, mark: Mark): void {
  const left = Math.round(mark.centreX);
  const top = Math.round(mark.centreY);
  if (left + reachPx < 0 || top + reachPx < 0 || left - reachPx > widthPx || top - reachPx > heightPx) return;
  const opacity = Math.round(mark.opacity * 256);
  for (let index = 0, colour = 0; index < x.length; index += 1, colour += 4) {
    const column = left + x[index]!;
    const row = top + y[index]!;
    if (column < 0 || row < 0 || column >= widthPx || row >= heightPx) continue;
    const share = (rgba[colour + 3]! * opacity) >> 8;
    const at = (row * widthPx + column) * 3;
    data[at] = mixed(data[at]!, rgba[colour]!, share);
    data[at + 1] = mixed(data[at + 1]!, rgba[colour + 1]!, share);
    data[at + 2] = mixed(data[at + 2]!, rgba[colour + 2]!, share);
  }
}

const mixed = (below: number, above: number, share: number): number =>
  (below * (255 - share) + above * share + 127) / 255;
