/** Measuring in child processes: one a core, one inference thread each. A poisoned file costs that one frame. */
import type { FileId, FrameId } from '../../core/ids.js';
import type { BikeJudgement } from '../../core/judge/types.js';
import type { PixelRect } from '../../core/measure/images.js';
import type { FileMetadata, FrameMeasured, FrameMeasurement } from '../../core/measure/types.js';
import type { BikeToJudge } from '../judge/index.js';

export type MeasureJob =
  /** Header only: times, body, lens, frame id, where the preview lies. */
  | { readonly kind: 'metadata'; readonly path: string; readonly fileId: FileId }
  | {
      readonly kind: 'pixels';
      readonly path: string;
      readonly metadata: FileMetadata;
      readonly tier: 'preview' | 'full';
      /** For tier `full`: what the preview gave, so that only the sharpness is measured again. */
      readonly known?: FrameMeasured;
    };

export type MeasureAnswer =
  | { readonly kind: 'metadata'; readonly fileId: FileId; readonly metadata: FileMetadata }
  | { readonly kind: 'pixels'; readonly frameId: FrameId; readonly pixels: FrameMeasurement };

export interface MeasurePool {
  /**
   * Never rejects for a bad file: the answer then says what was wrong and holds for this measurer's version.
   * Rejects with MeasureError where the file is not at fault (a lost disk, a full one, the pool closed): nothing is
   * remembered then, and the file is asked for again later.
   */
  measure(job: MeasureJob): Promise<MeasureAnswer>;
  readonly workers: number;
  /** Ends the children it started. */
  close(): Promise<void>;
}

export interface MeasurePoolOptions {
  readonly workers: number;
  /** Small pictures of each frame are written here as `<frameId>.jpg` (long edge 640 px, upright, sRGB). */
  readonly pictureFolder: string;
  /** Per job; a job that outlasts it is tried once more alone and is then unmeasurable. */
  readonly timeLimitMs: number;
}

/** A look at full resolution, by the same children once nothing is left to measure. */
export type LookJob =
  | ({
      readonly kind: 'judge';
      /** Crops are kept here. */
      readonly cropFolder: string;
    } & BikeToJudge)
  /** Of the upright picture, in its pixels; kept in the picture cache. */
  | {
      readonly kind: 'crop';
      readonly cropFolder: string;
      readonly path: string;
      readonly metadata: FileMetadata;
      readonly rect: PixelRect;
      readonly isWaitedFor: boolean;
    };

export type LookAnswer =
  | { readonly kind: 'judge'; readonly bike: BikeJudgement }
  /** `path`: where it is kept; else why it could not be made. */
  | { readonly kind: 'crop'; readonly path: string }
  | { readonly kind: 'no-crop'; readonly sentence: string };

export interface CloseLooker {
  /** Rejects only where the file is not at fault, like `MeasurePool.measure`. */
  look(job: LookJob): Promise<LookAnswer>;
  readonly workers: number;
}
