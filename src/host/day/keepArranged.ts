/** Keeps the arrangement up with what is known: one run at a time, rested while frames stream in, at once when asked. */
import type { WallMs } from '../../core/units.js';
import type { Arranged, Arranger } from './arranger.js';
import { restBeforeArranging } from './pace.js';

export interface KeepArranged {
  /** Something changed; `isUrgent` when a person said it. */
  changed(isUrgent: boolean): void;
  /** Nothing more is coming: what waits need not rest. */
  hurry(): void;
  isCurrent(): boolean;
  close(): void;
}

export interface KeepArrangedOptions {
  readonly arranger: Arranger;
  readonly wallNow: () => WallMs | null;
  readonly onArranged: (arranged: Arranged) => void;
  readonly onTrouble: (sentence: string) => void;
}

/** One that failed is tried once more, with a worker started anew; then it waits for news. */
const TRIES = 2;

export function keepArranged(options: KeepArrangedOptions): KeepArranged {
  let isDirty = false;
  let isUrgent = false;
  let isRunning = false;
  let isClosed = false;
  let failures = 0;
  let lastTookMs = 0;
  let lastEndedAt = Number.NEGATIVE_INFINITY;
  let timer: NodeJS.Timeout | null = null;

  const schedule = (): void => {
    if (isRunning || isClosed || !isDirty) return;
    if (timer !== null) clearTimeout(timer);
    const sinceLastMs = performance.now() - lastEndedAt;
    timer = setTimeout(() => void run(), restBeforeArranging({ isUrgent, lastTookMs, sinceLastMs }));
  };
  const run = async (): Promise<void> => {
    timer = null;
    isRunning = true;
    isDirty = false;
    isUrgent = false;
    const startedAt = performance.now();
    const outcome = await options.arranger.arrange(options.wallNow()).catch((problem: Error) => problem);
    lastEndedAt = performance.now();
    lastTookMs = lastEndedAt - startedAt;
    isRunning = false;
    if (isClosed) return;
    failures = outcome instanceof Error ? failures + 1 : 0;
    isDirty ||= failures > 0 && failures < TRIES;
    if (outcome instanceof Error) options.onTrouble(outcome.message);
    else options.onArranged(outcome);
    schedule();
  };

  return {
    changed(urgently) {
      isDirty = true;
      isUrgent ||= urgently;
      failures = 0;
      schedule();
    },
    hurry() {
      isUrgent ||= isDirty;
      schedule();
    },
    isCurrent: () => !isDirty && !isRunning,
    close() {
      isClosed = true;
      if (timer !== null) clearTimeout(timer);
    },
  };
}
