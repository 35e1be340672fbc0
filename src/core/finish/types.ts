/** Finishing: how pictures are made alike, small and marked or whole, with words inside; and what goes out and comes back. */
import type { FileId } from '../ids.js';
import type { Box } from '../measure/types.js';
import type { EpochMs, WallMs } from '../units.js';
import type { Look } from './finishes/types.js';

export interface PixelSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** What the picture's own metadata shall say (IPTC Photo Metadata; IIM and XMP). Never names of riders. */
export interface PictureWords {
  /** What the picture is called; null where it needs no name. */
  readonly title: string | null;
  /** What it may be found by. Nothing here rates it. */
  readonly keywords: readonly string[];
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

/** From what a picture is made: the camera's JPEG, its raw, or a picture of the frame that was finished elsewhere. */
export type PictureSource =
  | { readonly kind: 'camera' }
  | { readonly kind: 'raw' }
  | { readonly kind: 'elsewhere'; readonly picture: FileId };

/** All that decides what a proof or final looks like; it is made anew when any of it changes. */
export interface PicturePlan {
  readonly v: number;
  readonly source: PictureSource;
  readonly look: Look;
  /** Null: as large as the source gives it. Nothing is ever enlarged. */
  readonly longEdgePx: number | null;
  readonly jpegQuality: number;
  /** Finals keep the fine edges of colours, proofs are small. */
  readonly keepsColourEdges: boolean;
  /** Null: a final, without a mark. */
  readonly mark: {
    readonly text: string;
    /** Hash of the photographer's own mark, where that stands in place of the words. */
    readonly picture?: string;
    /** Upright 0–1 boxes that the mark has to cross. */
    readonly subjectBoxes: readonly Box[];
  } | null;
  readonly words: PictureWords;
}
