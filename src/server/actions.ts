/** Long work started from the desk: proofs and gallery. One of each at a time; progress with time left. */
import type { ActionView } from './types.js';

export interface ActionProgress {
  readonly done: number;
  readonly total: number;
}

/** Does the work, reports as it goes, resolves with a sentence about what was made and where. */
export type Action = (report: (progress: ActionProgress) => void) => Promise<string>;

export interface DeskActions {
  readonly makeProofs?: Action;
  readonly makeGallery?: Action;
}

type Name = ActionView['name'];

export interface ActionBoard {
  views(): readonly ActionView[];
  /** False where it is running already. */
  start(name: Name): boolean;
  has(name: Name): boolean;
}

interface Running {
  readonly view: ActionView;
  readonly startedMs: number;
}

const secondsLeftOf = (startedMs: number, nowMs: number, { done, total }: ActionProgress): number | null =>
  done === 0 || total === 0 ? null : ((nowMs - startedMs) / 1000 / done) * (total - done);

export function createActionBoard(actions: DeskActions, now: () => number, changed: () => void): ActionBoard {
  const work: ReadonlyMap<Name, Action> = new Map(
    [['proofs', actions.makeProofs] as const, ['gallery', actions.makeGallery] as const].flatMap(([name, action]) =>
      action ? [[name, action] as const] : [],
    ),
  );
  const boards = new Map<Name, Running>();
  const idle = (name: Name): ActionView => ({
    name,
    state: 'idle',
    done: 0,
    total: 0,
    secondsLeft: null,
    sentence: null,
  });
  const put = (name: Name, startedMs: number, view: ActionView): void => {
    boards.set(name, { startedMs, view });
    changed();
  };

  const run = async (name: Name, action: Action): Promise<void> => {
    const startedMs = now();
    let progress: ActionProgress = { done: 0, total: 0 };
    put(name, startedMs, { ...idle(name), state: 'running' });
    try {
      const sentence = await action((reported) => {
        progress = reported;
        put(name, startedMs, {
          name,
          state: 'running',
          ...reported,
          secondsLeft: secondsLeftOf(startedMs, now(), reported),
          sentence: null,
        });
      });
      put(name, startedMs, { name, state: 'finished', ...progress, secondsLeft: null, sentence });
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      put(name, startedMs, { name, state: 'failed', ...progress, secondsLeft: null, sentence: `Stopped: ${why}` });
    }
  };
  return {
    views: () => [...work.keys()].map((name) => boards.get(name)?.view ?? idle(name)),
    has: (name) => work.has(name),
    start: (name) => {
      const action = work.get(name);
      if (!action || boards.get(name)?.view.state === 'running') return false;
      void run(name, action);
      return true;
    },
  };
}
