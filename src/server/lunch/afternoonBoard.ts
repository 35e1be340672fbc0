/** The afternoon planned anew, from the desk: one search at a time, stopped when told, its answer kept until it is taken or put away. */
import type { AfternoonView } from '../../host/plan/lunch/types.js';

/** What a search is asked with. */
export interface AfternoonAsk {
  readonly signal: AbortSignal;
  /** A plan is there; stopping now would give it. */
  readonly onFirst: () => void;
}

export type Planning =
  | { readonly kind: 'idle' }
  | { readonly kind: 'running'; readonly startedMs: number; readonly hasPlan: boolean }
  | { readonly kind: 'failed'; readonly sentence: string }
  | { readonly kind: 'answered'; readonly answer: AfternoonView; readonly asked: string };

export interface AfternoonBoard {
  current(): Planning;
  /** False where it searches already. `asked` tells whether what it was asked with has changed since. */
  start(asked: string, search: (ask: AfternoonAsk) => Promise<AfternoonView>): boolean;
  /** The best plan until then is the answer. */
  stop(): void;
  /** What was found is forgotten. */
  putAway(): void;
}

export function createAfternoonBoard(now: () => number, tell: () => void): AfternoonBoard {
  let planning: Planning = { kind: 'idle' };
  let stopping: AbortController | null = null;
  const put = (next: Planning): void => {
    planning = next;
    tell();
  };
  const run = async (asked: string, search: (ask: AfternoonAsk) => Promise<AfternoonView>): Promise<void> => {
    const startedMs = now();
    const controller = new AbortController();
    stopping = controller;
    put({ kind: 'running', startedMs, hasPlan: false });
    try {
      const onFirst = () => put({ kind: 'running', startedMs, hasPlan: true });
      put({ kind: 'answered', answer: await search({ signal: controller.signal, onFirst }), asked });
    } catch (error) {
      put({ kind: 'failed', sentence: error instanceof Error ? error.message : String(error) });
    }
  };
  return {
    current: () => planning,
    start(asked, search) {
      if (planning.kind === 'running') return false;
      void run(asked, search);
      return true;
    },
    stop() {
      if (planning.kind === 'running') stopping?.abort();
    },
    putAway() {
      if (planning.kind !== 'running') put({ kind: 'idle' });
    },
  };
}
