/** Measures files in child processes, so that a decoder's crash costs one frame (decision 13 of the design). */
import { PIXELS_VERSION } from '../../core/measure/versions.js';
import { MeasureError } from './errors.js';
import type { MeasureAnswer, MeasureJob, MeasurePool, MeasurePoolOptions } from './types.js';
import { unreadableAnswer } from './unmeasurable.js';
import { type JobOutcome, MeasureWorker } from './worker.js';

interface Task {
  readonly job: MeasureJob;
  readonly resolve: (answer: MeasureAnswer) => void;
  readonly reject: (error: MeasureError) => void;
  /** How the first try ended, where there was one. */
  firstDeath?: string;
}

/** Jobs of a kind wait together: headers are quick and tell the order of the rest, previews come before full resolution. */
const urgencyOf = (job: MeasureJob): number => (job.kind === 'metadata' ? 0 : job.tier === 'preview' ? 1 : 2);

/** Libvips and the runtime keep what they once needed; a child past this is replaced between two jobs. */
const MOST_RESIDENT_BYTES = 900 * 1024 * 1024;
const MOST_FALSE_STARTS = 3;

export const createMeasurePool = (options: MeasurePoolOptions): MeasurePool =>
  startPool(options, new URL(import.meta.url.endsWith('.ts') ? './child.ts' : './child.js', import.meta.url));

/** The pool with another child program, for tests of what happens when a child dies. */
export const startPool = (options: MeasurePoolOptions, childModule: URL): Pool => new Pool(options, childModule);

export class Pool implements MeasurePool {
  readonly workers: number;
  readonly #options: MeasurePoolOptions;
  readonly #childModule: URL;
  readonly #idle: MeasureWorker[] = [];
  /** What is in hand, by child. A task stands here or in a queue until it is answered: none is ever lost. */
  readonly #inHand = new Map<MeasureWorker, Task>();
  readonly #waiting: readonly [Task[], Task[], Task[]] = [[], [], []];
  /** Their first try killed a child. They run alone, so that they take nobody with them. */
  readonly #suspects: Task[] = [];
  #falseStarts = 0;
  /** How the last of several false starts ended; from then on every job is refused at once. */
  #brokenBecause: string | null = null;
  #isClosed = false;

  constructor(options: MeasurePoolOptions, childModule: URL) {
    this.workers = Math.max(1, Math.floor(options.workers));
    this.#options = options;
    this.#childModule = childModule;
  }

  /** Process ids of the children with a job in hand. */
  get busyPids(): readonly number[] {
    return [...this.#inHand.keys()].flatMap((worker) => worker.pid ?? []);
  }

  measure(job: MeasureJob): Promise<MeasureAnswer> {
    if (this.#isClosed) return Promise.reject(closed(job));
    if (this.#brokenBecause !== null) return Promise.reject(brokenMeasurer(job, this.#brokenBecause));
    return new Promise((resolve, reject) => {
      this.#waiting[urgencyOf(job) as 0 | 1 | 2].push({ job, resolve, reject });
      this.#dispatch();
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    for (const task of this.#inHand.values()) task.reject(closed(task.job));
    for (const task of this.#takeWaiting()) task.reject(closed(task.job));
    const children = [...this.#inHand.keys(), ...this.#idle];
    this.#inHand.clear();
    await Promise.all(children.map((child) => child.stop()));
  }

  #dispatch(): void {
    while (!this.#isClosed && this.#inHand.size < this.workers) {
      const task = this.#nextTask();
      if (task === undefined) return;
      void this.#run(task);
    }
  }

  /** While a suspect waits, the others finish and then it has the machine to itself. */
  #nextTask(): Task | undefined {
    const isSuspectRunning = [...this.#inHand.values()].some((task) => task.firstDeath !== undefined);
    if (isSuspectRunning) return undefined;
    if (this.#suspects.length > 0) return this.#inHand.size === 0 ? this.#suspects.shift() : undefined;
    return this.#waiting.find((queue) => queue.length > 0)?.shift();
  }

  async #run(task: Task): Promise<void> {
    const worker = this.#idle.pop() ?? this.#start();
    this.#inHand.set(worker, task);
    const outcome = await worker.run(task.job, this.#options.timeLimitMs);
    if (this.#isClosed) return;
    this.#inHand.delete(worker);
    this.#after(task, outcome);
    if (outcome.kind === 'died' || isTooLarge(outcome)) void worker.stop();
    else this.#idle.push(worker);
    this.#dispatch();
  }

  #start(): MeasureWorker {
    return new MeasureWorker(this.#childModule, { pictureFolder: this.#options.pictureFolder });
  }

  #after(task: Task, outcome: JobOutcome): void {
    if (outcome.kind === 'answer') {
      this.#falseStarts = 0;
      task.resolve(outcome.answer);
    } else if (outcome.kind === 'refused') {
      task.reject(new MeasureError(outcome.sentence, { path: task.job.path }));
    } else if (!outcome.wasReady) {
      this.#falseStart(task, outcome.why);
    } else if (task.firstDeath === undefined) {
      task.firstDeath = outcome.why;
      this.#suspects.push(task);
    } else {
      task.resolve(unreadableAnswer(task.job, outcome.why));
    }
  }

  /** A child that dies before it is ready says nothing about the file. */
  #falseStart(task: Task, why: string): void {
    this.#falseStarts += 1;
    this.#waiting[urgencyOf(task.job) as 0 | 1 | 2].unshift(task);
    if (this.#falseStarts < MOST_FALSE_STARTS) return;
    this.#brokenBecause = why;
    for (const { job, reject } of this.#takeWaiting()) reject(brokenMeasurer(job, why));
  }

  #takeWaiting(): Task[] {
    return [this.#suspects, ...this.#waiting].flatMap((queue) => queue.splice(0));
  }
}

const isTooLarge = (outcome: JobOutcome): boolean =>
  outcome.kind === 'answer' && outcome.residentBytes > MOST_RESIDENT_BYTES;

const closed = (job: MeasureJob): MeasureError =>
  new MeasureError('Measuring was stopped; this file is measured when the meeting is opened again.', {
    path: job.path,
  });

const brokenMeasurer = (job: MeasureJob, why: string): MeasureError =>
  new MeasureError(
    `Expected the measurer (version ${PIXELS_VERSION}) to start but it ${why}. Install the program again; nothing is remembered against this file.`,
    { path: job.path },
  );
