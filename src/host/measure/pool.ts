/** Measures files in child processes, so that a decoder's crash costs one frame (decision 13 of the design). */
import { PIXELS_VERSION } from '../../core/measure/versions.js';
import { ChildPool, type Trouble } from '../children/index.js';
import { MeasureError } from './errors.js';
import type { ChildSettings } from './protocol.js';
import type {
  CloseLooker,
  LookAnswer,
  LookJob,
  MeasureAnswer,
  MeasureJob,
  MeasurePool,
  MeasurePoolOptions,
} from './types.js';
import { unreadableAnswer, unseenAnswer } from './unmeasurable.js';

type Job = MeasureJob | LookJob;

/** Jobs of a kind wait together: a crop that somebody waits for, then headers, which are quick and tell the order of the rest. */
function urgencyOf(job: Job): number {
  switch (job.kind) {
    case 'crop':
      return job.isWaitedFor ? 0 : 4;
    case 'metadata':
      return 1;
    case 'pixels':
      return job.tier === 'preview' ? 2 : 3;
    case 'judge':
      return 4;
  }
}

export const createMeasurePool = (options: MeasurePoolOptions): MeasurePool & CloseLooker =>
  startPool(options, new URL(import.meta.url.endsWith('.ts') ? './child.ts' : './child.js', import.meta.url));

/** The pool with another child program, for tests of what happens when a child dies. */
export const startPool = (options: MeasurePoolOptions, childModule: URL): Pool => new Pool(options, childModule);

export class Pool implements MeasurePool, CloseLooker {
  readonly #children: ChildPool<Job, MeasureAnswer | LookAnswer>;

  constructor({ workers, timeLimitMs, pictureFolder }: MeasurePoolOptions, childModule: URL) {
    const settings: ChildSettings = { pictureFolder };
    const ends = { afterTwoDeaths, errorFor };
    this.#children = new ChildPool({ childModule, settings, workers, timeLimitMs, urgencyOf, ...ends });
  }

  get workers(): number {
    return this.#children.workers;
  }

  /** Process ids of the children with a job in hand. */
  get busyPids(): readonly number[] {
    return this.#children.busyPids;
  }

  /** A child answers each job in its own kind. */
  measure(job: MeasureJob): Promise<MeasureAnswer> {
    return this.#children.run(job) as Promise<MeasureAnswer>;
  }

  look(job: LookJob): Promise<LookAnswer> {
    return this.#children.run(job) as Promise<LookAnswer>;
  }

  close(): Promise<void> {
    return this.#children.close();
  }
}

const afterTwoDeaths = (job: Job, why: string): MeasureAnswer | LookAnswer =>
  job.kind === 'judge' || job.kind === 'crop' ? unseenAnswer(job, why) : unreadableAnswer(job, why);

const errorFor = ({ path }: Job, trouble: Trouble): MeasureError => new MeasureError(sentenceFor(trouble), { path });

function sentenceFor(trouble: Trouble): string {
  switch (trouble.kind) {
    case 'refused':
      return trouble.sentence;
    case 'closed':
      return 'Measuring was stopped; this file is measured when the meeting is opened again.';
    case 'cannot-start':
      return `Expected the measurer (version ${PIXELS_VERSION}) to start but it ${trouble.why}. Install the program again; nothing is remembered against this file.`;
  }
}
