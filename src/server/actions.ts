/** Long work started from the desk: proofs, finals and gallery. One of each at a time; progress with time left; some can be stopped. */
import type { ActionView, WorkView } from './types.js';

export interface ActionProgress {
  readonly done: number;
  readonly total: number;
  /** How many of those done took time: what stood there already took none. Absent: all of them. */
  readonly made?: number;
  /** Where the work knows it better than its pace so far tells. */
  readonly secondsLeft?: number | null;
  /** Why nothing moves, while it does not. */
  readonly waiting?: string | null;
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

/** Long work by its name; one of each at a time. */
export interface Board<Name extends string> {
  view(name: Name): WorkView;
  /** False where it is running already. */
  start(name: Name, action: Action): boolean;
  /** False where nothing of it is under way. */
  stop(name: Name): boolean;
  /** Stops all that is under way, and resolves once it ended. */
  halt(): Promise<void>;
}

interface Running {
  readonly view: WorkView;
  readonly stopping: AbortController;
  readonly ended: Promise<void>;
}

const secondsLeftOf = (
  startedMs: number,
  nowMs: number,
  { done, total, made = done, secondsLeft }: ActionProgress,
): number | null => {
  if (secondsLeft !== undefined) return secondsLeft;
  return made === 0 || total === 0 ? null : ((nowMs - startedMs) / 1000 / made) * (total - done);
};

const IDLE: WorkView = { state: 'idle', done: 0, total: 0, secondsLeft: null, sentence: null };

export function createBoard<Name extends string>(now: () => number, changed: () => void): Board<Name> {
  const boards = new Map<Name, Running>();
  const run = async (action: Action, signal: AbortSignal, put: (view: Partial<WorkView>) => void): Promise<void> => {
    const startedMs = now();
    let progress = { done: 0, total: 0 };
    try {
      const sentence = await action((reported) => {
        progress = { done: reported.done, total: reported.total };
        const secondsLeft = secondsLeftOf(startedMs, now(), reported);
        put({ ...progress, state: 'running', secondsLeft, sentence: reported.waiting ?? null });
      }, signal);
      const wasStopped = signal.aborted && progress.done < progress.total;
      put({ ...progress, state: wasStopped ? 'stopped' : 'finished', sentence });
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      put({ ...progress, state: 'failed', sentence: `Stopped: ${why}` });
    }
  };
  const isUnderWay = (name: Name): boolean => boards.get(name)?.view.state === 'running';
  return {
    view: (name) => boards.get(name)?.view ?? IDLE,
    start: (name, action) => {
      if (isUnderWay(name)) return false;
      const stopping = new AbortController();
      const running = { stopping, view: { ...IDLE, state: 'running' } as const, ended: Promise.resolve() };
      const put = (view: Partial<WorkView>): void => {
        boards.set(name, { ...(boards.get(name) ?? running), view: { ...IDLE, ...view } });
        changed();
      };
      boards.set(name, running);
      const ended = run(action, stopping.signal, put);
      boards.set(name, { ...boards.get(name)!, ended });
      changed();
      return true;
    },
    stop: (name) => {
      if (!isUnderWay(name)) return false;
      boards.get(name)?.stopping.abort();
      return true;
    },
    halt: async () => {
      for (const { stopping } of boards.values()) stopping.abort();
      await Promise.all([...boards.values()].map(({ ended }) => ended));
    },
  };
}

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
  const board = createBoard<Name>(now, changed);
  return {
    views: () => [...work.keys()].map((name) => ({ name, ...board.view(name) })),
    has: (name) => work.has(name),
    start: (name) => {
      const action = work.get(name);
      return action !== undefined && board.start(name, action);
    },
    stop: board.stop,
    close: () => void board.halt(),
  };
}
