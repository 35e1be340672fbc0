/** What may pass by itself is tried again, after longer and longer waits with some chance in them. */
import { setTimeout as sleep } from 'node:timers/promises';
import { PutUpError } from './putUpError.js';

export interface Patience {
  /** Seconds before each further try; when they are used up the trouble is told. */
  readonly waitsSeconds: readonly number[];
  readonly wait: (seconds: number, signal: AbortSignal | undefined) => Promise<void>;
  /** 0 to 1: lines that broke together do not come back together. */
  readonly chance: () => number;
}

export const PATIENCE: Patience = {
  waitsSeconds: [1, 2, 4, 8, 16, 30, 30],
  wait: (seconds, signal) => sleep(seconds * 1000, undefined, signal === undefined ? {} : { signal }).catch(() => {}),
  chance: Math.random,
};

export async function tryAgain<T>(
  work: () => Promise<T>,
  { waitsSeconds, wait, chance }: Patience,
  signal: AbortSignal | undefined,
  onWait: (seconds: number, trouble: PutUpError) => void,
): Promise<T> {
  for (const atMost of waitsSeconds) {
    try {
      return await work();
    } catch (trouble) {
      if (!(trouble instanceof PutUpError) || !trouble.isPassing || signal?.aborted) throw trouble;
      const seconds = atMost * (0.5 + chance() / 2);
      onWait(seconds, trouble);
      await wait(seconds, signal);
    }
  }
  return work();
}
