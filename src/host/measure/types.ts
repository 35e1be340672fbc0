/** Measuring in child processes: one a core, one inference thread each. A poisoned file costs that one frame. */
import type { FileId, FrameId } from '../../core/ids.js';
import type { FileMetadata, FrameMeasured, FrameMeasurement } from '../../core/measure/types.js';

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
