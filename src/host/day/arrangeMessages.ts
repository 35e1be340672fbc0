/** What goes to the resident arrangement and what comes back. Only news travels; the worker keeps the rest. */
import type { KnownFile } from '../../core/arrange/types.js';
import type { BikeJudgement } from '../../core/judge/types.js';
import type { LogLine } from '../../core/log/types.js';
import type { FrameMeasurement } from '../../core/measure/types.js';
import type { WallMs } from '../../core/units.js';
import type { Derived } from './derive.js';

/** What never changes while the meeting is open. */
export interface ArrangeSettings {
  readonly zone: string;
  readonly spots: readonly { readonly id: string }[];
}

export interface News {
  readonly files?: readonly KnownFile[];
  /** Files that turned out not to stand: `fill|path`. */
  readonly goneFiles?: readonly string[];
  readonly pixels?: readonly FrameMeasurement[];
  readonly judgements?: readonly BikeJudgement[];
  readonly lines?: readonly LogLine[];
}

export type ToArranger =
  | { readonly kind: 'news'; readonly news: News }
  | { readonly kind: 'arrange'; readonly id: number; readonly now: WallMs | null };

export type FromArranger =
  /** Parts that are the very same as in the answer before stay behind: the whole of a day is 0.1 s of copying. */
  | { readonly kind: 'arranged'; readonly id: number; readonly changed: Partial<Derived>; readonly tookMs: number }
  | { readonly kind: 'failed'; readonly id: number; readonly why: string };

export const placeOf = ({ fill, path }: Pick<KnownFile, 'fill' | 'path'>): string => `${fill}|${path}`;
