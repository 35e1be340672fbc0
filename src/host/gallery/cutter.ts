/** The children that make the gallery's pictures (decision 13 of the design). */
import { availableParallelism } from 'node:os';
import { ChildPool, type Trouble } from '../children/index.js';
import type { CutJob, CutOutcome } from './cutPicture.js';
import { GalleryError } from './galleryError.js';

export type Cutter = ChildPool<CutJob, CutOutcome>;

const TIME_LIMIT_MS = 60_000;
const MOST_CHILDREN = 8;
const CHILD = new URL(import.meta.url.endsWith('.ts') ? './child.ts' : './child.js', import.meta.url);

/** Starts no child before there is something to make. */
export const startCutter = (): Cutter =>
  new ChildPool({
    childModule: CHILD,
    settings: {},
    workers: Math.min(availableParallelism(), MOST_CHILDREN),
    timeLimitMs: TIME_LIMIT_MS,
    afterTwoDeaths: (_, why): CutOutcome => ({ kind: 'failed', sentence: `twice the picture maker ${why}` }),
    errorFor: ({ cuts }, trouble) => new GalleryError(sentenceFor(cuts[0]!.to, trouble), cuts[0]!.to),
  });

function sentenceFor(to: string, trouble: Trouble): string {
  switch (trouble.kind) {
    case 'refused':
      return `Expected to write ${to}, but ${trouble.sentence}. Make room there, or see that the disk can be written to, and make the gallery again; what is made stays.`;
    case 'closed':
      return 'Making the gallery was stopped; make it again to go on.';
    case 'cannot-start':
      return `Expected the gallery's picture maker to start but it ${trouble.why}. Install the program again; what is made stays.`;
  }
}
