/** Long work started from the desk: proofs, finals and gallery. One of each at a time; progress with time left; some can be stopped. */
import type { ActionView } from './types.js';

export interface ActionProgress {
  readonly done: number;
  readonly total: number;
  /** How many of those done took time: what stood there already took none. Absent: all of them. */
  readonly made?: number;
}

export type Report = (progress: ActionProgress) => void;

/**
 * Does the work, reports as it goes, resolves with a sentence about what was made and where. Where it can be stopped it ends
 * soon after its signal says so, what it made stays, and started again it goes on.
 */
export type Action = (report: Report, signal: AbortSignal) => Promise<string>;

export interface DeskActions {
  readonly makeProofs?: Action;
  readonly makeFinals?: Action;
  readonly makeGallery?: Action;
}

type Name = ActionView['name'];

export interface ActionBoard {
  views(): readonly ActionView[];
  /** False where it is running already. */
  start(name: Name): boolean;
  /** False where nothing of it is under way. */
  stop(name: Name): boolean;
  has(name: Name): boolean;
  /** Stops all that is under way. */
  close(): void;
}

interface Running {
  readonly view: ActionView;
  readonly startedMs: number;
  readonly stopping: AbortController;
}

const secondsLeftOf = (
  startedMs: number,
  nowMs: number,
  { done, total, made = done }: ActionProgress,
): number | null => (made === 0 || total === 0 ? null : ((nowMs - startedMs) / 1000 / made) * (total - done));

export function createActionBoard(actions: DeskActions, now: () => number, changed: () => void): ActionBoard {
  const work: ReadonlyMap<Name, Action> = new Map(
    (
      [
        ['proofs', actions.makeProofs],
        ['finals', actions.makeFinals],
        ['gallery', actions.makeGallery],
      ] as const
    ).flatMap(([name, action]) => (action ? [[name, action] as const] : [])),
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

  const run = async (name: Name, action: Action): Promise<void> => {
    const [startedMs, stopping] = [now(), new AbortController()];
    const put = (view: Partial<ActionView>): void => {
      boards.set(name, { startedMs, stopping, view: { ...idle(name), ...progress, ...view } });
      changed();
    };
    let progress = { done: 0, total: 0 };
    put({ state: 'running' });
    try {
      const sentence = await action((reported) => {
        progress = { done: reported.done, total: reported.total };
        put({ state: 'running', secondsLeft: secondsLeftOf(startedMs, now(), reported) });
      }, stopping.signal);
      put({ state: stopping.signal.aborted && progress.done < progress.total ? 'stopped' : 'finished', sentence });
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      put({ state: 'failed', sentence: `Stopped: ${why}` });
    }
  };
  const isUnderWay = (name: Name): boolean => boards.get(name)?.view.state === 'running';
  return {
    views: () => [...work.keys()].map((name) => boards.get(name)?.view ?? idle(name)),
    has: (name) => work.has(name),
    start: (name) => {
      const action = work.get(name);
      if (!action || isUnderWay(name)) return false;
      void run(name, action);
      return true;
    },
    stop: (name) => {
      if (!isUnderWay(name)) return false;
      boards.get(name)?.stopping.abort();
      return true;
    },
    close: () => {
      for (const { stopping } of boards.values()) stopping.abort();
    },
  };
}
