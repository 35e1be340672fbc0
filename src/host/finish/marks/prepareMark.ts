/**
 * A photographer's own mark, made ready: what can be seen of it alone, in sRGB, its strongest place made solid, since
 * proofs say themselves how strong a mark stands across a bike and between.
 */
import sharp from 'sharp';

export interface MarkJob {
  /** What it is called, for sentences. */
  readonly name: string;
  /** Base64. */
  readonly bytes: string;
}

export type MarkAnswer =
  /** A PNG, base64. */
  | { readonly kind: 'mark'; readonly png: string }
  /** `why` ends a sentence. */
  | { readonly kind: 'refused'; readonly why: string };

/** The widest proof has marks of 960 pixels; what can be seen of an SVG is drawn at this size. */
const EDGE_PX = 1200;
/** For one that is mostly margin. */
const MOST_DRAWN_PX = 8000;
/** Smaller ones would be blown up across a bike of half a picture's width. */
const LEAST_PX = { longer: 300, shorter: 24 } as const;
/** Fainter than this nobody sees. */
const LEAST_ALPHA = 8;
/** With less of it empty it is a plate that hides the bike. */
const LEAST_EMPTY_SHARE = 0.05;
/** With less ink, solid places counted whole and faint ones in part, most of a picture stands free between specks. */
const LEAST_INK_SHARE = 0.005;
const MOST_PIXELS = 100_000_000;

/** What is no mark is an answer, too. */
export const prepareMark = (job: MarkJob): Promise<MarkAnswer> =>
  prepared(Buffer.from(job.bytes, 'base64')).then(
    (png) => ({ kind: 'mark', png: png.toString('base64') }),
    (error: Error) => ({ kind: 'refused', why: error.message.split('\n')[0]! }),
  );

async function prepared(bytes: Buffer): Promise<Buffer> {
  const { data, width, height, seen } = await seenIn(bytes);
  if (seen.emptyShare < LEAST_EMPTY_SHARE) throw new Error('nothing of it is transparent, so it would hide the bike');
  refuseSmall(seen.box);
  if (seen.ink / (seen.box.width * seen.box.height) < LEAST_INK_SHARE)
    throw new Error(
      'it is specks far apart: less than half a hundredth of it can be seen, so most of a proof would stand free',
    );
  for (let at = 3; at < data.length; at += 4) data[at] = Math.round((data[at]! * 255) / seen.strongest);
  return sharp(data, { raw: { width, height, channels: 4 } })
    .extract(seen.box)
    .png({ compressionLevel: 9 })
    .toBuffer();
}

async function seenIn(bytes: Buffer) {
  const first = await drawn(bytes, EDGE_PX);
  const longer = Math.max(first.seen.box.width, first.seen.box.height);
  const wanted = Math.min(MOST_DRAWN_PX, Math.round(EDGE_PX ** 2 / longer));
  return first.format === 'svg' && wanted > EDGE_PX ? drawn(bytes, wanted) : first;
}

async function drawn(bytes: Buffer, edgePx: number) {
  const image = sharp(bytes, { limitInputPixels: MOST_PIXELS, failOn: 'error' });
  const { format } = await image.metadata();
  if (format !== 'png' && format !== 'svg') throw new Error(`it is of another kind (${format})`);
  const { data, info } = await image
    .resize(edgePx, edgePx, { fit: 'inside', withoutEnlargement: format === 'png' })
    .toColourspace('srgb')
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const seen = seenOf(data, info.width);
  if (seen === null) throw new Error('nothing in it can be seen');
  return { format, data, width: info.width, height: info.height, seen };
}

interface Seen {
  readonly box: { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
  readonly strongest: number;
  /** Its pixels, each by its share of the strongest. */
  readonly ink: number;
  readonly emptyShare: number;
}

function seenOf(data: Buffer, width: number): Seen | null {
  let [left, top, right, bottom, strongest, sum, empty] = [width, Number.POSITIVE_INFINITY, -1, -1, 0, 0, 0];
  for (let at = 3, pixel = 0; at < data.length; at += 4, pixel += 1) {
    const alpha = data[at]!;
    if (alpha < LEAST_ALPHA) {
      empty += 1;
      continue;
    }
    const [x, y] = [pixel % width, Math.floor(pixel / width)];
    left = Math.min(left, x);
    right = Math.max(right, x);
    top = Math.min(top, y);
    bottom = y;
    strongest = Math.max(strongest, alpha);
    sum += alpha;
  }
  if (strongest === 0) return null;
  const box = { left, top, width: right - left + 1, height: bottom - top + 1 };
  return { box, strongest, ink: sum / strongest, emptyShare: empty / (data.length / 4) };
}

function refuseSmall({ width, height }: Seen['box']): void {
  if (Math.max(width, height) >= LEAST_PX.longer && Math.min(width, height) >= LEAST_PX.shorter) return;
  throw new Error(
    `what can be seen of it is ${width} × ${height} pixels, and at least ${LEAST_PX.longer} along its longer side and ${LEAST_PX.shorter} along the other make a mark`,
  );
}
