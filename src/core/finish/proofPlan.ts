/** Plans of proofs: size, mark and words. Host carries them out. */
import type { Box, FrameMeasurement } from '../measure/types.js';
import type { PixelSize, ProofPlan, ProofWords } from './types.js';

/** Raised when the same inputs would give another picture. */
export const PROOF_VERSION = 1;
/** Proofs have a long edge of 1,000–1,600 px: common practice, no source. */
export const PROOF_LONG_EDGE_PX = 1400;
const JPEG_QUALITY = 82;
/** Boxes smaller than this share of the picture are passers-by in the background, not worth a mark. */
const LEAST_BOX_SHARE = 0.004;
const MOST_BOXES = 4;

/** Never enlarges; the long edge becomes `longEdgePx` at most, the shape stays. */
export function proofSize(original: PixelSize, longEdgePx = PROOF_LONG_EDGE_PX): PixelSize {
  const scale = Math.min(1, longEdgePx / Math.max(original.widthPx, original.heightPx));
  return {
    widthPx: Math.max(1, Math.round(original.widthPx * scale)),
    heightPx: Math.max(1, Math.round(original.heightPx * scale)),
  };
}

export function planProof(words: ProofWords, subjectBoxes: readonly Box[]): ProofPlan {
  return {
    v: PROOF_VERSION,
    longEdgePx: PROOF_LONG_EDGE_PX,
    jpegQuality: JPEG_QUALITY,
    subjectBoxes,
    markText: `proof, ${words.credit}`,
    words,
  };
}

/** The boxes the mark has to cross: every bike in the frame, largest first. */
export function boxesToMark(pixels: FrameMeasurement | undefined, said: readonly Box[]): readonly Box[] {
  const measured = pixels?.kind === 'measured' ? pixels.subjects.map((subject) => subject.box) : [];
  return [...measured, ...said]
    .filter((box) => box[2] * box[3] >= LEAST_BOX_SHARE)
    .sort((a, b) => b[2] * b[3] - a[2] * a[3])
    .slice(0, MOST_BOXES);
}
