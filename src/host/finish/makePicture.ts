/** One picture, proof or final: finished, in sRGB, with the meeting's words inside and nothing of the camera's. */
import { stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import sharp, { type Exif } from 'sharp';
import {
  boxFinished,
  iimFields,
  isoText,
  type PicturePlan,
  type PictureWords,
  type PixelSize,
  xmpPacket,
} from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import { writeAtomically } from './atomically.js';
import { FinishError } from './finishError.js';
import { inputsOf } from './inputsOf.js';
import { applyLook } from './looks/index.js';
import { markPixels } from './mark.js';
import { iimSegment, profileSegment, srgbProfile, withSegments } from './segments.js';
import { type MadeFrom, openPicture } from './sources/openPicture.js';

export interface PictureJob {
  readonly frameId: FrameId;
  /** Absolute path of what the plan's source names. */
  readonly original: string;
  readonly plan: PicturePlan;
  /** Absolute path of the picture to be made. */
  readonly to: string;
  /** Absolute path of the photographer's own mark, where the plan names one. */
  readonly markFile?: string;
}

export type PictureOutcome =
  | {
      readonly kind: 'made';
      readonly frameId: FrameId;
      readonly path: string;
      readonly widthPx: number;
      readonly heightPx: number;
      readonly bytes: number;
      readonly madeFrom: MadeFrom;
      /** Said where it is not made from what was wished. */
      readonly note: string | null;
    }
  | { readonly kind: 'failed'; readonly frameId: FrameId; readonly sentence: string };

/**
 * A frame that cannot be finished is an outcome with a sentence, and nothing is left behind under `to`. A picture that
 * cannot be written is no frame's fault: a `FinishError`.
 */
export async function makePicture(job: PictureJob): Promise<PictureOutcome> {
  let picture: Awaited<ReturnType<typeof pictureBytes>>;
  try {
    picture = await pictureBytes(job);
  } catch (error) {
    return { kind: 'failed', frameId: job.frameId, sentence: await sentenceFor(job, error) };
  }
  const { bytes, size, madeFrom, note } = picture;
  await writePicture(job, bytes);
  return { kind: 'made', frameId: job.frameId, path: job.to, ...size, bytes: bytes.length, madeFrom, note };
}

export const nounOf = ({ mark }: PicturePlan): string => (mark === null ? 'final' : 'proof');

async function writePicture({ to, plan }: PictureJob, bytes: Buffer): Promise<void> {
  try {
    await writeAtomically(to, bytes);
  } catch (error) {
    const noun = nounOf(plan);
    const sentence = `Expected to write a ${noun} of ${bytes.length} bytes into ${dirname(to)}, but ${(error as Error).message}. Make room there, or see that the disk can be written to, and make the ${noun}s again; those made already stay.`;
    throw new FinishError(sentence, to, error);
  }
}

async function pictureBytes({ frameId, original, plan, markFile }: PictureJob) {
  const { picture, size: upright, madeFrom, note } = await openPicture(original, plan);
  const finished = await applyLook(picture, upright, plan.look, plan.longEdgePx);
  const { data, info } = await finished.picture
    .toColourspace('srgb')
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  const size: PixelSize = { widthPx: info.width, heightPx: info.height };
  if (plan.mark) {
    const boxes = plan.mark.subjectBoxes
      .map((box) => boxFinished(box, plan.look, upright))
      .filter((box) => box !== null);
    await markPixels({ data, size }, boxes, markFile === undefined ? { text: plan.mark.text } : { file: markFile });
  }
  return { bytes: await encoded(data, size, plan, inputsOf(frameId, plan)), size, madeFrom, note };
}

/** What print shops ask for; without it libvips says 25.4, and a page of four metres. */
const PRINTED_DPI = 300;

async function encoded(data: Buffer, { widthPx, heightPx }: PixelSize, plan: PicturePlan, instance: string) {
  const jpeg = await sharp(data, { raw: { width: widthPx, height: heightPx, channels: 3 } })
    .withExif(exifOf(plan.words))
    .withDensity(PRINTED_DPI)
    .withXmp(xmpPacket(plan.words, instance))
    .jpeg({ quality: plan.jpegQuality, chromaSubsampling: plan.keepsColourEdges ? '4:4:4' : '4:2:0' })
    .toBuffer();
  return withSegments(jpeg, [profileSegment(await srgbProfile()), iimSegment(iimFields(plan.words))]);
}

/** Exif text is ASCII (CIPA DC-008, type 2): a name that is not would be misspelt, so it stands in IPTC and XMP only. */
const inAscii = (text: string | null): text is string => text !== null && /^[\x20-\x7e]+$/.test(text);

/** IFD0 and the Exif IFD ("IFD2" in sharp's naming): the words only. */
function exifOf(words: PictureWords): Exif {
  const taken = words.captured && isoText({ wall: words.captured.wall, instant: null });
  return {
    IFD0: {
      ...(inAscii(words.creator) ? { Artist: words.creator } : {}),
      ...(inAscii(words.copyright) ? { Copyright: words.copyright } : {}),
    },
    IFD2: {
      // 1 is sRGB (CIPA DC-008, ColorSpace).
      ColorSpace: '1',
      ...(taken ? { DateTimeOriginal: taken.replaceAll('-', ':').replace('T', ' ') } : {}),
    },
  };
}

async function sentenceFor({ original, plan }: PictureJob, error: unknown): Promise<string> {
  const there = await stat(original).catch(() => null);
  if (!there) return `Expected ${original}, where bringing in laid it, but it is not there; bring its card in again.`;
  const said = error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error);
  return `Expected a whole picture in ${original}, ${there.size} bytes, but it could not be read (${said}); no ${nounOf(plan)} was made of it.`;
}
