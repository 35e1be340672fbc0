/**
 * A close look at one bike of one frame: crops at full resolution, and what was judged of it. Types only, as in `../types.ts`.
 * `GET /api/looks?bikes=<frame>:<subject>,…` answers with {@link CloseLooksView}; `CropView.src` is a picture.
 */
import type { FrameId } from '../../core/ids.js';
import type { Box } from '../../core/measure/types.js';
import type { Spoken } from '../types.js';

/** At 100 %: one pixel of the crop is one of the picture. What lies under an address never changes. */
export interface CropView {
  readonly src: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Where it lies in the whole upright picture, 0–1. */
  readonly at: Box;
}

/**
 * A square around one part, of a side that is the same share of the bike in every frame: shown equally large, parts of
 * different frames stand at one scale.
 */
export interface PartView extends CropView {
  readonly what: 'helmet' | 'number' | 'tail';
  /** From a tenth to nine tenths of an edge's height, in pixels of the whole picture, middle of its clearest edges; null: too few. */
  readonly edgePx: number | null;
}

/** Something judged, and where on the `whole` crop it can be seen. */
export interface EvidenceView {
  readonly what: 'looked at' | 'edges' | 'cut' | 'in front' | 'bright' | 'rider';
  readonly sentence: string;
  /** 0–1 of the `whole` crop. */
  readonly box: Box;
}

export type JudgementView =
  | {
      readonly kind: 'judged';
      readonly evidence: readonly EvidenceView[];
      /** The rest of it, in words: how it leans. What cannot be known is not among them. */
      readonly words: readonly Spoken[];
    }
  /** Soon, by itself. */
  | { readonly kind: 'waiting' }
  /** Why not, and what to do. */
  | { readonly kind: 'absent'; readonly sentence: string };

export interface CloseLookView {
  readonly frameId: FrameId;
  readonly subject: number;
  /** The bike and a margin; null where nothing was measured there, or where neither a crop nor the original is here. */
  readonly whole: CropView | null;
  /** Those that are known; before judging none are. */
  readonly parts: readonly PartView[];
  readonly judgement: JudgementView;
}

export interface CloseLooksView {
  readonly asOf: number;
  /** In the order they were asked for. */
  readonly looks: readonly CloseLookView[];
}

/** How far judging is. */
export interface JudgingView {
  readonly left: number;
  readonly done: number;
  readonly secondsLeft: number | null;
  /** Why some are not judged; null: nothing stands against it. */
  readonly sentence: string | null;
}
