/** The child that looks at the kit's frames (decision 13 of the design): one, and only while something is asked. */
import { ChildPool, type Trouble } from '../children/index.js';
import type { LookAnswer, LookJob } from './look.js';

export type KitLooker = Pick<ChildPool<LookJob, LookAnswer>, 'run' | 'close'>;

/** Thirty frames of 24 megapixels, on a machine that is measuring besides. */
const TIME_LIMIT_MS = 120_000;
const CHILD = new URL(import.meta.url.endsWith('.ts') ? './child.ts' : './child.js', import.meta.url);

export const startKitLooker = (): KitLooker =>
  new ChildPool<LookJob, LookAnswer>({
    childModule: CHILD,
    settings: {},
    workers: 1,
    timeLimitMs: TIME_LIMIT_MS,
    // A picture that somebody looks at goes before dust, which takes seconds.
    urgencyOf: ({ kind }) => (kind === 'spot' ? 0 : 1),
    afterTwoDeaths: (_, why) => ({ kind: 'failed', sentence: `twice the program that looks at frames ${why}` }),
    errorFor: (_, trouble) => new Error(sentenceFor(trouble)),
  });

function sentenceFor(trouble: Trouble): string {
  switch (trouble.kind) {
    case 'refused':
      return trouble.sentence;
    case 'closed':
      return 'Looking at frames was stopped.';
    case 'cannot-start':
      return `Expected the program that looks at frames to start but it ${trouble.why}. Install the program again.`;
  }
}
