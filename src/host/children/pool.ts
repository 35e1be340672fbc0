/**
 * A few child processes that do jobs on files, so that a decoder's crash costs one file (decision 13 of the design):
 * dispatch is remembered, a job has a time limit, what killed a child gets one more try alone.
 */
import { type JobOutcome, Worker } from './worker.js';

/** Why a job got no answer: none of it lies in the file. Each ends a sentence or is one. */
export type Trouble =
  | { readonly kind: 'refused'; readonly sentence: string }
  | { readonly kind: 'closed' }
  | { readonly kind: 'cannot-start'; readonly why: string };

export interface ChildPoolOptions<Job, Answer> {
  /** The program a child runs; it calls `serve`. */
  readonly childModule: URL;
  /** Plain data, the child's only argument. */
  readonly settings: object;
  readonly workers: number;
  /** For one job, once the child is ready. */
  readonly timeLimitMs: number;
  /** Jobs of a kind wait together, the lower number first; all alike by default. */
  readonly urgencyOf?: (job: Job) => number;
  /** The answer for a job whose child died twice, the second time with the machine to itself. */
  readonly afterTwoDeaths: (job: Job, why: string) => Answer;
  readonly errorFor: (job: Job, trouble: Trouble) => Error;
}

interface Task<Job, Answer> {
  readonly job: Job;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: Error) => void;
  /** How the first try ended, where there was one. */
  firstDeath?: string;
}

/** Native libraries keep what they once needed; a child past this is replaced between two jobs. */
const MOST_RESIDENT_BYTES = 900 * 1024 * 1024;
const MOST_FALSE_STARTS = 3;

export class ChildPool<Job, Answer> {
  readonly workers: number;
  readonly #options: ChildPoolOptions<Job, Answer>;
  readonly #idle: Worker<Job, Answer>[] = [];
  /** What is in hand, by child. A task stands here or in a queue until it is answered: none is ever lost. */
  readonly #inHand = new Map<Worker<Job, Answer>, Task<Job, Answer>>();
  readonly #waiting: Task<Job, Answer>[][] = [];
  /** Their first try killed a child. They run alone, so that they take nobody with them. */
  readonly #suspects: Task<Job, Answer>[] = [];
  #falseStarts = 0;
  /** How the last of several false starts ended; from then on every job is refused at once. */
  #brokenBecause: string | null = null;
  #isClosed = false;

  constructor(options: ChildPoolOptions<Job, Answer>) {
    this.workers = Math.max(1, Math.floor(options.workers));
    this.#options = options;
  }

  /** Process ids of the children with a job in hand. */
  get busyPids(): readonly number[] {
    return [...this.#inHand.keys()].flatMap((worker) => worker.pid ?? []);
  }

  /** Children are started when there are jobs for them, and kept for the next. */
  run(job: Job): Promise<Answer> {
    if (this.#isClosed) return Promise.reject(this.#error(job, { kind: 'closed' }));
    const why = this.#brokenBecause;
    if (why !== null) return Promise.reject(this.#error(job, { kind: 'cannot-start', why }));
    return new Promise((resolve, reject) => {
      this.#queueOf(job).push({ job, resolve, reject });
      this.#dispatch();
    });
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    for (const { job, reject } of [...this.#inHand.values(), ...this.#takeWaiting()]) {
      reject(this.#error(job, { kind: 'closed' }));
    }
    const children = [...this.#inHand.keys(), ...this.#idle];
    this.#inHand.clear();
    await Promise.all(children.map((child) => child.stop()));
  }

  #error(job: Job, trouble: Trouble): Error {
    return this.#options.errorFor(job, trouble);
  }

  #queueOf(job: Job): Task<Job, Answer>[] {
    const urgency = this.#options.urgencyOf?.(job) ?? 0;
    while (this.#waiting.length <= urgency) this.#waiting.push([]);
    return this.#waiting[urgency]!;
  }

  #dispatch(): void {
    while (!this.#isClosed && this.#inHand.size < this.workers) {
      const task = this.#nextTask();
      if (task === undefined) return;
      void this.#run(task);
    }
  }

  /** While a suspect waits, the others finish and then it has the machine to itself. */
  #nextTask(): Task<Job, Answer> | undefined {
    const isSuspectRunning = [...this.#inHand.values()].some((task) => task.firstDeath !== undefined);
    if (isSuspectRunning) return undefined;
    if (this.#suspects.length > 0) return this.#inHand.size === 0 ? this.#suspects.shift() : undefined;
    return this.#waiting.find((queue) => queue.length > 0)?.shift();
  }

  async #run(task: Task<Job, Answer>): Promise<void> {
    const { childModule, settings, timeLimitMs } = this.#options;
    const worker = this.#idle.pop() ?? new Worker<Job, Answer>(childModule, settings);
    this.#inHand.set(worker, task);
    const outcome = await worker.run(task.job, timeLimitMs);
    if (this.#isClosed) return;
    this.#inHand.delete(worker);
    this.#after(task, outcome);
    if (outcome.kind === 'died' || isTooLarge(outcome)) void worker.stop();
    else this.#idle.push(worker);
    this.#dispatch();
  }

  #after(task: Task<Job, Answer>, outcome: JobOutcome<Answer>): void {
    if (outcome.kind === 'answer') {
      this.#falseStarts = 0;
      task.resolve(outcome.answer);
    } else if (outcome.kind === 'refused') {
      task.reject(this.#error(task.job, outcome));
    } else if (!outcome.wasReady) {
      this.#falseStart(task, outcome.why);
    } else if (task.firstDeath === undefined) {
      task.firstDeath = outcome.why;
      this.#suspects.push(task);
    } else {
      task.resolve(this.#options.afterTwoDeaths(task.job, outcome.why));
    }
  }

  /** A child that dies before it is ready says nothing about the file. */
  #falseStart(task: Task<Job, Answer>, why: string): void {
    this.#falseStarts += 1;
    this.#queueOf(task.job).unshift(task);
    if (this.#falseStarts < MOST_FALSE_STARTS) return;
    this.#brokenBecause = why;
    for (const { job, reject } of this.#takeWaiting()) reject(this.#error(job, { kind: 'cannot-start', why }));
  }

  #takeWaiting(): Task<Job, Answer>[] {
    return [this.#suspects, ...this.#waiting].flatMap((queue) => queue.splice(0));
  }
}

const isTooLarge = (outcome: JobOutcome<unknown>): boolean =>
  outcome.kind === 'answer' && outcome.residentBytes > MOST_RESIDENT_BYTES;
