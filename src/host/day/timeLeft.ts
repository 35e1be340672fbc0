/** How long measuring will take still, from how long it took lately; null while nobody can know. */

/** Weight of the newest interval: smooth over about ten frames. */
const NEWEST = 0.1;
const LEAST_SEEN = 5;

export interface TimeLeft {
  oneDone(): void;
  /** Work stopped; the pause must not count as slowness. */
  rest(): void;
  seconds(left: number): number | null;
}

export function timeLeft(now: () => number = () => performance.now()): TimeLeft {
  let lastAt: number | null = null;
  let seen = 0;
  let meanMs = 0;
  return {
    oneDone() {
      const at = now();
      if (lastAt !== null) {
        seen++;
        const weight = Math.max(NEWEST, 1 / seen);
        meanMs += weight * (at - lastAt - meanMs);
      }
      lastAt = at;
    },
    rest() {
      lastAt = null;
    },
    seconds: (left) => (left === 0 ? 0 : seen < LEAST_SEEN ? null : (left * meanMs) / 1000),
  };
}
