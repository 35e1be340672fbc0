/** What the parts of accuracy give that look at pictures. */
import type { Vision } from '../../src/host/vision/index.js';
import type { Figures } from '../figures.js';

export interface PhotosAccuracy {
  /** A readable report. */
  readonly rows: readonly string[];
  readonly figures: Figures;
}

/** One part's report; absent folders give nothing. */
export type Part = (vision: Vision, dataDir: string) => Promise<PhotosAccuracy | null>;
