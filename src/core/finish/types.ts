/** Finishing: how pictures are made alike. In this first version, the proofs: small, marked, with words inside. */
import type { Box } from '../measure/types.js';
import type { EpochMs, WallMs } from '../units.js';

export interface PixelSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** What the picture's own metadata shall say (IPTC Photo Metadata; IIM and XMP). Never names of riders. */
export interface ProofWords {
  readonly creator: string | null;
  readonly credit: string;
  readonly copyright: string | null;
  /** Name of the meeting, with its circuit where known. */
  readonly event: string;
  /** An address for questions: e-mail or web. */
  readonly contact: string | null;
  readonly usageTerms: string;
  /** When the picture was taken, by the corrected clock; null where no time is known. */
  readonly captured: { readonly wall: WallMs; readonly instant: EpochMs | null } | null;
}

/** One line of the watermark, placed in proof pixels about its own middle. */
export interface Mark {
  readonly centreX: number;
  readonly centreY: number;
  readonly widthPx: number;
  /** Degrees, positive clockwise as in SVG. */
  readonly angleDeg: number;
  readonly opacity: number;
  /** Across a subject, or one of the fainter repeats between. */
  readonly over: 'subject' | 'picture';
}

/** All that decides what a proof looks like; a proof is made anew when any of it changes. */
export interface ProofPlan {
  readonly v: number;
  readonly longEdgePx: number;
  readonly jpegQuality: number;
  /** Upright 0–1 boxes that the mark has to cross. */
  readonly subjectBoxes: readonly Box[];
  readonly markText: string;
  readonly words: ProofWords;
}
