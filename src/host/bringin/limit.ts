/** Lets at most `count` tasks run at a time; the others wait in order. */
export type Limit = <Result>(task: () => Promise<Result>) => Promise<Result>;

export function limitTo(count: number): Limit {
  let running = 0;
  const waiting: (() => void)[] = [];
  return async (task) => {
    if (running >= count) await new Promise<void>((resolve) => waiting.push(resolve));
    else running++;
    try {
      return await task();
    } finally {
      const next = waiting.shift();
      if (next) next();
      else running--;
    }
  };
}

/** Runs a task at most once at a time; calls made meanwhile share the next run. For flushing folders. */
export function sharedRuns(task: (key: string) => Promise<void>): (key: string) => Promise<void> {
  const running = new Map<string, Promise<void>>();
  const next = new Map<string, Promise<void>>();
  const start = (key: string): Promise<void> => {
    const run = task(key).finally(() => running.delete(key));
    running.set(key, run);
    return run;
  };
  return (key) => {
    const current = running.get(key);
    if (current === undefined) return start(key);
    const waiting = next.get(key);
    if (waiting) return waiting;
    const queued = current
      .catch(() => undefined)
      .then(() => {
        next.delete(key);
        return start(key);
      });
    next.set(key, queued);
    return queued;
  };
}
