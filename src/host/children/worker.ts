/** One child process and the one job it has in hand. */
import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { FromChild } from './protocol.js';

export type JobOutcome<Answer> =
  | { readonly kind: 'answer'; readonly answer: Answer; readonly residentBytes: number }
  | { readonly kind: 'refused'; readonly sentence: string }
  /** `why` ends a sentence: "the measurer …". */
  | { readonly kind: 'died'; readonly why: string; readonly wasReady: boolean };

interface InHand<Answer> {
  readonly id: number;
  readonly resolve: (outcome: JobOutcome<Answer>) => void;
  readonly timeLimitMs: number;
  timer: NodeJS.Timeout;
}

/** Loading models and native code on a cold, busy laptop; counted apart from a file's own time. */
const START_LIMIT_MS = 60_000;

const KEPT_ERROR_CHARACTERS = 2000;

export class Worker<Job, Answer> {
  readonly #child: ChildProcess;
  #inHand: InHand<Answer> | null = null;
  #nextId = 1;
  #isReady = false;
  #isTooSlow = false;
  #lastErrors = '';

  /** `settings` are plain data, given to the child as its only argument. */
  constructor(module: URL, settings: object) {
    this.#child = fork(fileURLToPath(module), [JSON.stringify(settings)], {
      execArgv: executionArguments(module),
      stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
    });
    this.#child.stderr?.on('data', (text: Buffer) => {
      this.#lastErrors = (this.#lastErrors + text.toString()).slice(-KEPT_ERROR_CHARACTERS);
    });
    this.#child.on('message', (message: FromChild<Answer>) => this.#hear(message));
    this.#child.on('exit', (code, signal) => this.#end(signal ?? `code ${code}`));
    this.#child.on('error', (error) => this.#end(error.message));
  }

  get pid(): number | undefined {
    return this.#child.pid;
  }

  /** One job at a time. Resolves whatever happens to the child. */
  run(job: Job, timeLimitMs: number): Promise<JobOutcome<Answer>> {
    return new Promise((resolve) => {
      const id = this.#nextId++;
      const timer = setTimeout(() => this.#tooSlow(), this.#isReady ? timeLimitMs : START_LIMIT_MS);
      this.#inHand = { id, resolve, timeLimitMs, timer };
      this.#child.send({ id, job }, (error) => {
        if (error !== null) this.#end(error.message);
      });
    });
  }

  /** Ends the child at once, and resolves when it is gone. */
  stop(): Promise<void> {
    return new Promise((resolve) => {
      if (this.#child.exitCode !== null || this.#child.signalCode !== null) return resolve();
      this.#child.once('exit', () => resolve());
      this.#child.kill('SIGKILL');
    });
  }

  #hear(message: FromChild<Answer>): void {
    if (message.kind === 'ready') {
      this.#ready();
    } else if (message.id === this.#inHand?.id) {
      this.#settle(message);
    }
  }

  #ready(): void {
    this.#isReady = true;
    if (this.#inHand === null) return;
    clearTimeout(this.#inHand.timer);
    this.#inHand.timer = setTimeout(() => this.#tooSlow(), this.#inHand.timeLimitMs);
  }

  #tooSlow(): void {
    this.#isTooSlow = true;
    this.#child.kill('SIGKILL');
  }

  #end(how: string): void {
    const last = lastWords(this.#lastErrors);
    const why = this.#isTooSlow
      ? 'took too long and was stopped'
      : `ended unexpectedly (${how})${last ? `; its last words: ${last}` : ''}`;
    this.#settle({ kind: 'died', why, wasReady: this.#isReady });
  }

  #settle(outcome: JobOutcome<Answer>): void {
    const inHand = this.#inHand;
    if (inHand === null) return;
    this.#inHand = null;
    clearTimeout(inHand.timer);
    inHand.resolve(outcome);
  }
}

/** Of an uncaught error its message; otherwise the last line. */
const lastWords = (errors: string): string | undefined => {
  const lines = errors.split('\n').filter((line) => line.trim() !== '' && !line.startsWith('Node.js v'));
  return lines.findLast((line) => /^\w*Error\b/.test(line)) ?? lines.at(-1);
};

/** From TypeScript the child needs the loader that we run under; tests are run by one that children do not inherit. */
const executionArguments = (module: URL): string[] =>
  module.pathname.endsWith('.ts') ? ['--import', import.meta.resolve('tsx')] : [];
