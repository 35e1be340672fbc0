/** Holds a reader to so many bytes a second, so that a slow card can be tried on a fast disk. */
import { setTimeout as wait } from 'node:timers/promises';

export type Throttle = (bytes: number) => Promise<void>;

export function throttleTo(bytesPerSecond: number | undefined): Throttle {
  if (bytesPerSecond === undefined) return () => Promise.resolve();
  let freeAt = performance.now();
  return async (bytes) => {
    freeAt = Math.max(freeAt, performance.now()) + (bytes / bytesPerSecond) * 1000;
    const ahead = freeAt - performance.now();
    if (ahead > 1) await wait(ahead);
  };
}
