/** What the pool and its children say to each other. Plain data: it travels as JSON. */
import type { MeasureAnswer, MeasureJob } from './types.js';

/** Given to a child once, as its only argument. */
export interface ChildSettings {
  readonly pictureFolder: string;
}

export interface ToChild {
  readonly id: number;
  readonly job: MeasureJob;
}

export type FromChild =
  /** Models are loaded; a child that dies before saying so is the program's fault, not a file's. */
  | { readonly kind: 'ready' }
  | { readonly kind: 'answer'; readonly id: number; readonly answer: MeasureAnswer; readonly residentBytes: number }
  /** The job could not be done for a reason that does not lie in the file. */
  | { readonly kind: 'refused'; readonly id: number; readonly sentence: string };
