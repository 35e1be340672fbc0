/** The children that read pictures which come back: one that kills its decoder costs itself. */
import { ChildPool, type Trouble } from '../../children/index.js';
import { FinishError } from '../finishError.js';
import { usualChildren } from '../finisher.js';
import type { ReadAnswer, ReadJob } from './readReturned.js';

export type Readers = ChildPool<ReadJob, ReadAnswer>;

/** A large TIFF from a slow disk takes seconds; a decoder that goes on longer is stuck. */
const TIME_LIMIT_MS = 60_000;

const CHILD = new URL(import.meta.url.endsWith('.ts') ? './readingChild.ts' : './readingChild.js', import.meta.url);

/** Starts no child before there is something to read. Another child program is for tests. */
export const startReaders = ({ childModule = CHILD } = {}): Readers =>
  new ChildPool<ReadJob, ReadAnswer>({
    childModule,
    settings: {},
    workers: usualChildren(),
    timeLimitMs: TIME_LIMIT_MS,
    afterTwoDeaths: (_, why) => ({ kind: 'unreadable', why: `twice the reader ${why}` }),
    errorFor: ({ path }, trouble) => new FinishError(sentenceFor(trouble), path),
  });

function sentenceFor(trouble: Trouble): string {
  switch (trouble.kind) {
    case 'refused':
      return trouble.sentence;
    case 'closed':
      return 'Looking at what came back was stopped; nothing was taken, say it again.';
    case 'cannot-start':
      return `Expected the reader of pictures to start but it ${trouble.why}. Install the program again; nothing was taken.`;
  }
}
