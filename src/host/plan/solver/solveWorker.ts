/** The solver's own thread: HiGHS does not give way while it searches. */
import { parentPort } from 'node:worker_threads';
import { startHighs } from './highs.js';
import type { FromSolver, SolveTask } from './messages.js';
import { solveDay } from './solveDay.js';

const highs = startHighs();
const say = (message: FromSolver): void => parentPort?.postMessage(message);

async function solve({ id, problem, gap, timeLimitS, stopped }: SolveTask): Promise<void> {
  try {
    const plan = solveDay(await highs, problem, {
      gap,
      timeLimitS,
      shouldStop: () => Atomics.load(stopped, 0) === id,
      onFirst: (first) => say({ kind: 'first', id, plan: first }),
      onProgress: (progress) => say({ kind: 'progress', id, progress }),
    });
    say({ kind: 'answer', id, plan });
  } catch (problemMet) {
    say({ kind: 'failed', id, why: (problemMet as Error).message });
  }
}

parentPort?.on('message', (task: SolveTask) => void solve(task));
