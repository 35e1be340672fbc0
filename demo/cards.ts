/**
 * The invented meeting's cards, laid out as its cameras leave them: DCF folders, Exif, a clip, side files, the camera's own
 * clock in the files' times. Built from `demo/frames.br` and the day's truth; the same bytes every time.
 */
import { mkdir, utimes, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { BODIES, type Body, bodyKeyOf } from './day/meeting.js';
import { readTruth } from './day/truth.js';
import { dngOf } from './dng.js';
import { type CameraWords, withExif, withExifAndPreview } from './exif.js';
import { recordedPicture } from './recordedPicture.js';
import type { DemoTruth, TrueFrame } from './truthTypes.js';

export interface DemoCard {
  readonly name: string;
  /** The card's root as mounted. */
  readonly path: string;
  /** Make, model and serial of the body that filled it, as its files record them. */
  readonly body: string;
}

/** The meeting's zone is an hour ahead of UTC in September; a card reader shows the body's clock in that zone. */
const ZONE_MS = 3_600_000;

/** Writes the cards as folders of `folder`, which is made if it is missing. Files that are there already are written again. */
export async function layOutCards(folder: string): Promise<{ cards: DemoCard[]; truth: DemoTruth }> {
  const truth = await readTruth();
  const names = [...new Set(truth.frames.map((f) => f.card))];
  const cards = names.map((name): DemoCard => {
    const frame = truth.frames.find((f) => f.card === name)!;
    return { name, path: join(folder, name), body: frame.body };
  });
  for (const card of cards) {
    const frames = truth.frames.filter((f) => f.card === card.name);
    const folders = new Set(frames.map((f) => dirname(f.path)));
    await Promise.all([...folders].map((f) => mkdir(join(card.path, f), { recursive: true })));
    await inTurns(frames, (frame) => writeFrame(card, frame));
    await writeSideFiles(card, frames);
  }
  return { cards, truth };
}

const AT_ONCE = 8;
async function inTurns<T>(items: readonly T[], work: (item: T) => Promise<void>): Promise<void> {
  for (let i = 0; i < items.length; i += AT_ONCE) await Promise.all(items.slice(i, i + AT_ONCE).map(work));
}

const bodyOf = (key: string): Body => {
  const body = BODIES.find((b) => bodyKeyOf(b) === key);
  if (!body)
    throw new Error(
      `Expected one of the bodies ${BODIES.map(bodyKeyOf).join(', ')} in the day's truth but found "${key}"; see demo/day/meeting.ts.`,
    );
  return body;
};

/** What the body's clock said, counted as if in UTC. */
const recordedMs = (frame: TrueFrame): number => Date.parse(`${frame.wall}Z`) + bodyOf(frame.body).fastS * 1000;

function wordsOf(frame: TrueFrame): CameraWords {
  const body = bodyOf(frame.body);
  const taken = frame.taken;
  if (!taken)
    throw new Error(`Expected demo/day/truth.ts to say what the camera wrote of ${frame.path} but it has no "taken".`);
  const iso = new Date(recordedMs(frame)).toISOString();
  return {
    make: body.make,
    model: body.model,
    serial: body.serial,
    lens: body.lens,
    offset: body.offsetTag,
    time: `${iso.slice(0, 10).replaceAll('-', ':')} ${iso.slice(11, 19)}`,
    subSec: iso.slice(20, 22),
    ...taken,
    widthPx: 600,
    heightPx: 400,
  };
}

/** Share of a damaged file that reached the card. */
const DAMAGED_SHARE = 0.38;

async function writeFrame(card: DemoCard, frame: TrueFrame): Promise<void> {
  const picture = await recordedPicture(frame);
  const words = wordsOf(frame);
  const whole =
    bodyOf(frame.body).name === 'A'
      ? withExifAndPreview(picture, await previewOf(picture), words)
      : withExif(picture, words);
  const bytes = frame.role === 'damaged' ? whole.subarray(0, Math.floor(whole.length * DAMAGED_SHARE)) : whole;
  await put(card, frame.path, bytes, recordedMs(frame));
  if (frame.raw !== undefined) await put(card, frame.raw, await rawOf(picture, words), recordedMs(frame));
}

const PREVIEW_PX = { width: 300, height: 200 } as const;
const previewOf = (picture: Buffer): Promise<Buffer> =>
  sharp(picture).resize(PREVIEW_PX).jpeg({ quality: 72 }).toBuffer();

async function rawOf(picture: Buffer, words: CameraWords): Promise<Buffer> {
  const { data, info } = await sharp(picture).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  return dngOf(
    {
      pixels: data,
      widthPx: info.width,
      heightPx: info.height,
      preview: picture,
      previewWidthPx: info.width,
      previewHeightPx: info.height,
    },
    words,
  );
}

async function put(card: DemoCard, path: string, bytes: Uint8Array, clockMs: number): Promise<void> {
  const file = join(card.path, path);
  await writeFile(file, bytes);
  // FAT keeps times to two seconds.
  const seconds = Math.floor((clockMs - ZONE_MS) / 2000) * 2;
  await utimes(file, seconds, seconds);
}

/** An index in MISC as cameras keep, and on body B a few seconds of clip whose pictures are empty. */
async function writeSideFiles(card: DemoCard, frames: readonly TrueFrame[]): Promise<void> {
  const last = recordedMs(frames.at(-1)!);
  await mkdir(join(card.path, 'MISC'), { recursive: true });
  await put(card, 'MISC/HXINDEX.DAT', Buffer.from(frames.map((f) => f.path).join('\r\n'), 'latin1'), last);
  if (bodyOf(card.body).name !== 'B') return;
  await mkdir(join(card.path, 'PRIVATE/HXCLIP'), { recursive: true });
  await put(card, 'PRIVATE/HXCLIP/C0001.MP4', clip(), last);
}

/** An ISO base media file (ISO/IEC 14496-12) of a type box and a data box: enough to be recognised, nothing to play. */
function clip(): Buffer {
  const box = (type: string, body: Buffer): Buffer => {
    const head = Buffer.alloc(8);
    head.writeUInt32BE(body.length + 8, 0);
    head.write(type, 4, 'latin1');
    return Buffer.concat([head, body]);
  };
  return Buffer.concat([
    box('ftyp', Buffer.from('mp42\0\0\0\0mp42isom', 'latin1')),
    box('mdat', Buffer.alloc(6000, 0x55)),
  ]);
}
