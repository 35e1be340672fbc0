/** One proof: small, sRGB, marked across the subject, with the meeting's words inside and nothing of the camera's. */
import { stat } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import sharp from 'sharp';
import { iimFields, isoText, type ProofPlan, type ProofWords, proofSize, xmpPacket } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import { writeAtomically } from './atomically.js';
import { FinishError } from './finishError.js';
import { withIim } from './iim.js';
import { watermarkSvg } from './watermark.js';

/** Above this a file is taken for a decompression bomb: no camera of the trade writes so many pixels. */
const MOST_PIXELS = 160_000_000;

export interface ProofJob {
  readonly frameId: FrameId;
  /** Absolute path of the frame's main image. */
  readonly original: string;
  readonly plan: ProofPlan;
  /** Absolute path of the proof. */
  readonly to: string;
}

export type ProofOutcome =
  | {
      readonly kind: 'made';
      readonly frameId: FrameId;
      readonly path: string;
      readonly widthPx: number;
      readonly heightPx: number;
      readonly bytes: number;
    }
  | { readonly kind: 'failed'; readonly frameId: FrameId; readonly sentence: string };

type Picture = Awaited<ReturnType<typeof proofBytes>>;

/**
 * A frame that cannot be finished is an outcome with a sentence, and nothing is left behind under `to`. A proof that
 * cannot be written is no frame's fault: a `FinishError`.
 */
export async function makeProof(job: ProofJob): Promise<ProofOutcome> {
  let picture: Picture;
  try {
    picture = await proofBytes(job.original, job.plan);
  } catch (error) {
    return { kind: 'failed', frameId: job.frameId, sentence: await sentenceFor(job.original, error) };
  }
  await writeProof(job.to, picture.bytes);
  return { kind: 'made', frameId: job.frameId, path: job.to, ...picture.size, bytes: picture.bytes.length };
}

async function writeProof(to: string, bytes: Buffer): Promise<void> {
  try {
    await writeAtomically(to, bytes);
  } catch (error) {
    const sentence = `Expected to write a proof of ${bytes.length} bytes into ${dirname(to)}, but ${(error as Error).message}. Make room there, or see that the disk can be written to, and make the proofs again; those made already stay.`;
    throw new FinishError(sentence, to, error);
  }
}

async function proofBytes(original: string, plan: ProofPlan) {
  const input = sharp(original, { limitInputPixels: MOST_PIXELS, failOn: 'error', autoOrient: true });
  const { autoOrient } = await input.metadata();
  const size = proofSize({ widthPx: autoOrient.width, heightPx: autoOrient.height }, plan.longEdgePx);
  const mark = Buffer.from(watermarkSvg(size, plan.subjectBoxes, plan.markText));
  // `fill` to the exact size: `inside` may round one pixel away from the size the mark was drawn for.
  const jpeg = await input
    .resize(size.widthPx, size.heightPx, { fit: 'fill' })
    .flatten({ background: '#ffffff' })
    .composite([{ input: mark }])
    .withIccProfile('srgb')
    .withExif(exifOf(plan.words))
    .withXmp(xmpPacket(plan.words))
    .jpeg({ quality: plan.jpegQuality, progressive: true })
    .toBuffer();
  return { bytes: withIim(jpeg, iimFields(plan.words)), size };
}

/** Exif text is ASCII (CIPA DC-008, type 2): a name that is not would be misspelt, so it stands in IPTC and XMP only. */
const inAscii = (text: string | null): text is string => text !== null && /^[\x20-\x7e]+$/.test(text);

/** IFD0 and the Exif IFD ("IFD2" in sharp's naming): the words only. */
function exifOf(words: ProofWords) {
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

async function sentenceFor(original: string, error: unknown): Promise<string> {
  const name = basename(original);
  const there = await stat(original).catch(() => null);
  if (!there)
    return `Expected ${name} at its place in the meeting folder, but it is not there; bring its card in again.`;
  const said = error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error);
  return `Expected a whole picture in ${name}, ${there.size} bytes, but it could not be read (${said}); no proof was made of it.`;
}
