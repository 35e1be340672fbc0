/** What the solver's thread and the program say to each other. */
import type { DayPlan, DayProblem, FoundPlan } from '../../../core/plan/day/index.js';
import type { Progress } from './highs.js';

export interface SolveTask {
  readonly id: number;
  readonly problem: DayProblem;
  readonly gap: number;
  readonly timeLimitS: number;
  /** Set to the id of a search that shall end: the thread is busy with it and hears no message. */
  readonly stopped: Int32Array;
}

export type FromSolver =
  | { readonly kind: 'first'; readonly id: number; readonly plan: FoundPlan }
  | { readonly kind: 'progress'; readonly id: number; readonly progress: Progress }
  | { readonly kind: 'answer'; readonly id: number; readonly plan: DayPlan }
  | { readonly kind: 'failed'; readonly id: number; readonly why: string };
