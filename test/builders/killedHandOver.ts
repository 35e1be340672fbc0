/** The program in a process of its own, killed in the middle of handing over. */
import { fork } from 'node:child_process';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const PROGRAM = fileURLToPath(new URL('../fixtures/finish/handOverChild.ts', import.meta.url));

export interface Killing {
  readonly folder: string;
  readonly what: 'proofs' | 'gallery';
  readonly riders: number;
  /** Killed a moment after it said so many steps. */
  readonly afterSteps: number;
}

/** Moments by the golden ratio: as good as random, and the same every time. At most about the time of one picture. */
const momentMs = (step: number): number => ((step * 0.618_033_988_75) % 1) * 60;

/** Resolves with true when it was killed, false when it was done before that. */
export function killedHandOver({ folder, what, riders, afterSteps }: Killing): Promise<boolean> {
  const started = fork(PROGRAM, [folder, what, String(riders)], {
    execArgv: ['--import', 'tsx'],
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  });
  let steps = 0;
  started.on('message', () => {
    steps += 1;
    if (steps === afterSteps) void wait(momentMs(steps)).then(() => started.kill('SIGKILL'));
  });
  return new Promise((resolve) => started.once('exit', (_, signal) => resolve(signal === 'SIGKILL')));
}
