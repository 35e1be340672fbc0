/** Measures files in child processes, so that a decoder's crash costs one frame (decision 13 of the design). */
import { PIXELS_VERSION } from '../../core/measure/versions.js';
import { ChildPool, type Trouble } from '../children/index.js';
import { MeasureError } from './errors.js';
import type { ChildSettings } from './protocol.js';
import type { MeasureAnswer, MeasureJob, MeasurePool, MeasurePoolOptions } from './types.js';
import { unreadableAnswer } from './unmeasurable.js';

/** Jobs of a kind wait together: headers are quick and tell the order of the rest, previews come before full resolution. */
const urgencyOf = (job: MeasureJob): number => (job.kind === 'metadata' ? 0 : job.tier === 'preview' ? 1 : 2);

export const createMeasurePool = (options: MeasurePoolOptions): MeasurePool =>
  startPool(options, new URL(import.meta.url.endsWith('.ts') ? './child.ts' : './child.js', import.meta.url));

/** The pool with another child program, for tests of what happens when a child dies. */
export const startPool = (options: MeasurePoolOptions, childModule: URL): Pool => new Pool(options, childModule);

export class Pool implements MeasurePool {
  readonly #children: ChildPool<MeasureJob, MeasureAnswer>;

  constructor({ workers, timeLimitMs, pictureFolder }: MeasurePoolOptions, childModule: URL) {
    const settings: ChildSettings = { pictureFolder };
    const ends = { afterTwoDeaths: unreadableAnswer, errorFor };
    this.#children = new ChildPool({ childModule, settings, workers, timeLimitMs, urgencyOf, ...ends });
  }

  get workers(): number {
    return this.#children.workers;
  }

  /** Process ids of the children with a job in hand. */
  get busyPids(): readonly number[] {
    return this.#children.busyPids;
  }

  measure(job: MeasureJob): Promise<MeasureAnswer> {
    return this.#children.run(job);
  }

  close(): Promise<void> {
    return this.#children.close();
  }
}

const errorFor = ({ path }: MeasureJob, trouble: Trouble): MeasureError =>
  new MeasureError(sentenceFor(trouble), { path });

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
