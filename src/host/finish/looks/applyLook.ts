/**
 * Carries out a look on one picture with sharp: size, turn and cut are libvips' own, colours, grain and sharpening are
 * the core's on the pixels between. Equal input gives equal bytes. A plain look leaves everything to one libvips pipeline.
 */
import sharp, { type Sharp } from 'sharp';
import {
  colourChanger,
  finishedSize,
  type Look,
  type LookOperation,
  planLook,
  quieten,
  sharpen,
} from '../../../core/finish/finishes/index.js';
import type { PixelSize } from '../../../core/finish/types.js';

export interface Finished {
  /** The finished picture in sRGB, ready for a mark, words and an encoder; nothing of the camera's metadata is in it. */
  readonly picture: Sharp;
  readonly size: PixelSize;
}

type Operation<Op extends LookOperation['op']> = Extract<LookOperation, { op: Op }>;

/**
 * @param original a picture opened by the caller with `autoOrient`, so that limits and refusals are the caller's
 * @param longEdgePx of the finished picture; null keeps all there is
 */
export async function applyLook(
  original: Sharp,
  upright: PixelSize,
  look: Look,
  longEdgePx: number | null,
): Promise<Finished> {
  const operations = planLook(look, upright, longEdgePx);
  const size = finishedSize(operations);
  const find = <Op extends LookOperation['op']>(op: Op): Operation<Op> | undefined =>
    operations.find((one): one is Operation<Op> => one.op === op);
  const { widthPx, heightPx } = find('size')!;
  // `fill` to the exact size: `inside` may round one pixel away from it.
  const sized = original.resize(widthPx, heightPx, { fit: 'fill' }).flatten({ background: '#ffffff' });
  const [turn, cut] = [find('turn'), find('cut')];
  const placed = turn ? await turned(sized, turn.deg) : sized;
  const framed = cut ? placed.extract(rectOf(cut)) : placed;
  const own = operations.filter(isOfPixels);
  return { picture: own.length === 0 ? framed : await withPixels(framed, own), size };
}

type OfPixels = Operation<'quiet' | 'colour' | 'sharpen'>;
const isOfPixels = (one: LookOperation): one is OfPixels =>
  one.op === 'quiet' || one.op === 'colour' || one.op === 'sharpen';

const rectOf = ({ leftPx, topPx, widthPx, heightPx }: Operation<'cut'>) => ({
  left: leftPx,
  top: topPx,
  width: widthPx,
  height: heightPx,
});

/** In a pipeline of its own: sharp turns before it cuts or after, by the order of its own. */
async function turned(picture: Sharp, deg: number): Promise<Sharp> {
  return fromRaw(await rawOf(fromRaw(await rawOf(picture)).rotate(deg, { background: '#000000' })));
}

async function withPixels(picture: Sharp, operations: readonly OfPixels[]): Promise<Sharp> {
  const { data, info } = await rawOf(picture);
  for (const operation of operations) change(data, info, operation);
  return fromRaw({ data, info });
}

function change(data: Buffer, { width, height }: Raw['info'], operation: OfPixels): void {
  switch (operation.op) {
    case 'quiet':
      quieten(data, width, height, operation.strength);
      break;
    case 'colour':
      colourChanger(operation)(data);
      break;
    case 'sharpen':
      sharpen(data, width, height, operation.strength);
  }
}

interface Raw {
  readonly data: Buffer;
  readonly info: { readonly width: number; readonly height: number };
}

const rawOf = (picture: Sharp): Promise<Raw> =>
  picture.toColourspace('srgb').removeAlpha().raw().toBuffer({ resolveWithObject: true });

const fromRaw = ({ data, info: { width, height } }: Raw): Sharp => sharp(data, { raw: { width, height, channels: 3 } });
