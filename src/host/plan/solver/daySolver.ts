/** The day's solver for the rest of the program: in a thread of its own, one day at a time, stopped when told. */
import type { Worker } from 'node:worker_threads';
import type { DayPlan, DayProblem, FoundPlan } from '../../../core/plan/day/index.js';
import { moduleWorker } from '../../day/moduleWorker.js';
import type { Progress } from './highs.js';
import type { FromSolver, SolveTask } from './messages.js';
import { SolverError } from './solverError.js';

export interface AskOptions {
  /** Share of the best there can be at which the search may end; 1 % where nothing is said. */
  readonly gap?: number;
  readonly timeLimitS?: number;
  /** A plan at once, good but not proved, while the search goes on. */
  readonly onFirst?: (plan: FoundPlan) => void;
  readonly onProgress?: (progress: Progress) => void;
  /** The best plan until then is the answer. */
  readonly signal?: AbortSignal;
}

export interface DaySolver {
  solve(problem: DayProblem, options?: AskOptions): Promise<DayPlan>;
  close(): Promise<void>;
}

const GAP = 0.01;
const TIME_LIMIT_S = 10;

interface Asked {
  readonly task: SolveTask;
  readonly options: AskOptions;
  readonly resolve: (plan: DayPlan) => void;
  readonly reject: (error: SolverError) => void;
}

/** The thread is started with the first day and anew after it died. */
export function startDaySolver(): DaySolver {
  const stopped = new Int32Array(new SharedArrayBuffer(4));
  const waiting: Asked[] = [];
  let worker: Worker | null = null;
  let inHand: Asked | null = null;
  let nextId = 1;
  let isClosed = false;

  const next = (): void => {
    inHand = waiting.shift() ?? null;
    if (inHand === null) return;
    // One that was stopped while it waited: what was found at once is its answer.
    if (inHand.options.signal?.aborted) Atomics.store(stopped, 0, inHand.task.id);
    worker ??= begin();
    worker.postMessage(inHand.task);
  };
  const settle = (id: number, how: (asked: Asked) => void): void => {
    if (inHand?.task.id !== id) return;
    how(inHand);
    next();
  };
  const heard = (message: FromSolver): void => {
    if (inHand?.task.id !== message.id) return;
    if (message.kind === 'first') inHand.options.onFirst?.(message.plan);
    else if (message.kind === 'progress') inHand.options.onProgress?.(message.progress);
    else if (message.kind === 'answer') settle(message.id, ({ resolve }) => resolve(message.plan));
    else settle(message.id, ({ reject }) => reject(new SolverError(message.why)));
  };
  const ended = (which: Worker, why: string): void => {
    if (worker !== which) return;
    worker = null;
    const id = inHand?.task.id;
    if (id !== undefined)
      settle(id, ({ reject }) =>
        reject(new SolverError(`The solver stopped (${why}); ask again, it is started anew.`)),
      );
  };
  const begin = (): Worker => {
    const begun = moduleWorker('solveWorker', import.meta.url);
    begun.on('message', heard);
    begun.on('error', (problem) => ended(begun, problem.message));
    begun.on('exit', (code) => ended(begun, `code ${code}`));
    return begun;
  };

  return {
    solve: (problem, options = {}) =>
      new Promise((resolve, reject) => {
        if (isClosed) return reject(new SolverError('The solver was closed; start it again.'));
        const id = nextId++;
        const { gap = GAP, timeLimitS = TIME_LIMIT_S, signal } = options;
        waiting.push({ task: { id, problem, gap, timeLimitS, stopped }, options, resolve, reject });
        const stop = () => {
          if (inHand?.task.id === id) Atomics.store(stopped, 0, id);
        };
        signal?.addEventListener('abort', stop, { once: true });
        if (inHand === null) next();
      }),
    close: async () => {
      isClosed = true;
      const which = worker;
      worker = null;
      for (const { reject } of [...(inHand ? [inHand] : []), ...waiting.splice(0)])
        reject(new SolverError('The solver was closed before there was a plan.'));
      inHand = null;
      await which?.terminate();
    },
  };
}
