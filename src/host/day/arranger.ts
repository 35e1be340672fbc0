/** The arrangement as the day sees it: tell it news, ask for the result. In a thread, or in place for tests. */
import type { Worker } from 'node:worker_threads';
import type { WallMs } from '../../core/units.js';
import type { ArrangeSettings, FromArranger, News, ToArranger } from './arrangeMessages.js';
import { DayError } from './dayError.js';
import type { Derive, Derived } from './derive.js';
import { heldDay } from './heldDay.js';
import { moduleWorker } from './moduleWorker.js';

export interface Arranged {
  readonly derived: Derived;
  readonly tookMs: number;
}

export interface Arranger {
  tell(news: News): void;
  /** One at a time. Rejects with a sentence; the next one may succeed. */
  arrange(now: WallMs | null): Promise<Arranged>;
  close(): Promise<void>;
}

/** `everything` is asked when a worker starts anew, so that one that died loses nothing. */
export type MakeArranger = (settings: ArrangeSettings, everything: () => News) => Arranger;

/** In this thread, with any `derive`. */
export const inPlaceArranger =
  (derive: Derive): MakeArranger =>
  (settings, everything) => {
    const held = heldDay(settings, derive);
    let isStarted = false;
    const arrange = async (now: WallMs | null): Promise<Arranged> => {
      if (!isStarted) held.take(everything());
      isStarted = true;
      return held.arrange(now);
    };
    return { tell: (news) => void (isStarted && held.take(news)), arrange, close: async () => undefined };
  };

export const threadArranger: MakeArranger = (settings, everything) =>
  arrangerInThread(() => moduleWorker('arrangeWorker', import.meta.url, { workerData: settings }), everything);

/** With any worker that speaks the same messages. */
export function arrangerInThread(newWorker: () => Worker, everything: () => News): Arranger {
  let worker: Worker | null = null;
  let waiting: { readonly id: number; resolve(arranged: Arranged): void; reject(problem: DayError): void } | null =
    null;
  let nextId = 1;
  /** As the running worker told it last, part by part. */
  let told: Partial<Derived> = {};

  const ended = (which: Worker, why: string): void => {
    if (worker !== which) return;
    worker = null;
    waiting?.reject(new DayError(`The arrangement stopped (${why}); it is started again with everything known.`));
    waiting = null;
  };
  const heard = (message: FromArranger): void => {
    if (message.kind === 'arranged') told = { ...told, ...message.changed };
    if (waiting === null || waiting.id !== message.id) return;
    const { resolve, reject } = waiting;
    waiting = null;
    if (message.kind === 'arranged') resolve({ derived: told as Derived, tookMs: message.tookMs });
    else reject(new DayError(`The day could not be arranged: ${message.why} What was arranged before is still shown.`));
  };
  const start = (): Worker => {
    const started = newWorker();
    told = {};
    started.on('message', (message: FromArranger) => worker === started && heard(message));
    started.on('error', (problem) => ended(started, problem.message));
    started.on('exit', (code) => ended(started, `code ${code}`));
    started.postMessage({ kind: 'news', news: everything() } satisfies ToArranger);
    return started;
  };

  return {
    tell: (news) => worker?.postMessage({ kind: 'news', news } satisfies ToArranger),
    arrange: (now) =>
      new Promise((resolve, reject) => {
        worker ??= start();
        waiting = { id: nextId++, resolve, reject };
        worker.postMessage({ kind: 'arrange', id: waiting.id, now } satisfies ToArranger);
      }),
    async close() {
      const running = worker;
      worker = null;
      waiting?.reject(new DayError('The meeting was closed while it was being arranged.'));
      waiting = null;
      await running?.terminate();
    },
  };
}
