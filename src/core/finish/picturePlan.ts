/** Plans of proofs and finals: size, mark and words. Host carries them out. */
import type { Box, FrameMeasurement } from '../measure/types.js';
import { PLAIN_LOOK } from './finishes/finishes.js';
import type { Look } from './finishes/types.js';
import type { PicturePlan, PictureSource, PictureWords } from './types.js';

/** Raised when the same inputs would give another picture. */
export const PICTURE_VERSION = 3;
/** Proofs have a long edge of 1,000–1,600 px: common practice, no source. */
export const PROOF_EDGE_PX = { least: 1000, usual: 1400, most: 1600 } as const;
const PROOF_QUALITY = 82;
const FINAL_QUALITY = 92;
/** Boxes smaller than this share of the picture are passers-by in the background, not worth a mark. */
const LEAST_BOX_SHARE = 0.004;
const MOST_BOXES = 4;

export interface ProofWish {
  readonly subjectBoxes: readonly Box[];
  readonly longEdgePx?: number | undefined;
  /** The photographer's own words for the mark; else "proof" and the credit. */
  readonly markText?: string | undefined;
  /** Hash of the photographer's own mark, in place of words. */
  readonly markPicture?: string | undefined;
  readonly look?: Look | undefined;
}

export function planProof(
  words: PictureWords,
  { subjectBoxes, longEdgePx = PROOF_EDGE_PX.usual, markText, markPicture, look = PLAIN_LOOK }: ProofWish,
  source: PictureSource = { kind: 'camera' },
): PicturePlan {
  return {
    v: PICTURE_VERSION,
    source,
    look,
    longEdgePx,
    jpegQuality: PROOF_QUALITY,
    keepsColourEdges: false,
    mark: {
      text: markText ?? `proof, ${words.credit}`,
      ...(markPicture === undefined ? {} : { picture: markPicture }),
      subjectBoxes,
    },
    words,
  };
}

export const planFinal = (
  words: PictureWords,
  look: Look,
  longEdgePx: number | null,
  source: PictureSource,
): PicturePlan => ({
  v: PICTURE_VERSION,
  source,
  look,
  longEdgePx,
  jpegQuality: FINAL_QUALITY,
  keepsColourEdges: true,
  mark: null,
  words,
});

/** Where the bike lies in a picture that was cut elsewhere nobody measured: the mark goes across the middle. */
export const MIDDLE: Box = [0.15, 0.2, 0.7, 0.6];

/** The boxes the mark has to cross: every bike in the frame, largest first. */
export function boxesToMark(pixels: FrameMeasurement | undefined, said: readonly Box[]): readonly Box[] {
  const measured = pixels?.kind === 'measured' ? pixels.subjects.map((subject) => subject.box) : [];
  return [...measured, ...said]
    .filter((box) => box[2] * box[3] >= LEAST_BOX_SHARE)
    .sort((a, b) => b[2] * b[3] - a[2] * a[3])
    .slice(0, MOST_BOXES);
}
