/** The children that make pictures: an original that kills its decoder costs one picture. */
import { availableParallelism } from 'node:os';
import { ChildPool, type Trouble } from '../children/index.js';
import { FinishError } from './finishError.js';
import { nounOf, type PictureJob, type PictureOutcome } from './makePicture.js';

export type Finisher = ChildPool<PictureJob, PictureOutcome>;

/** Far above any camera's file on a slow disk and a busy machine; a decoder that goes on longer is stuck. */
const TIME_LIMIT_MS = 60_000;
/** A child takes about 150 MB; beyond this many, disks are the narrow place. */
const MOST_CHILDREN = 8;

const CHILD = new URL(import.meta.url.endsWith('.ts') ? './child.ts' : './child.js', import.meta.url);

/** One more than there are cores: while one waits for the disk, each core still has a picture in hand. */
export const usualChildren = (): number => Math.min(availableParallelism() + 1, MOST_CHILDREN);

/** Starts no child before there is something to make. Another child program or time limit is for tests. */
export const startFinisher = (
  workers = usualChildren(),
  { childModule = CHILD, timeLimitMs = TIME_LIMIT_MS } = {},
): Finisher => new ChildPool({ childModule, settings: {}, workers, timeLimitMs, afterTwoDeaths, errorFor });

const afterTwoDeaths = ({ frameId, original, plan }: PictureJob, why: string): PictureOutcome => ({
  kind: 'failed',
  frameId,
  sentence: `Expected a whole picture in ${original}, but twice the finisher ${why}; no ${nounOf(plan)} was made of it. The file is kept; look at it in another program, or keep another frame.`,
});

const errorFor = ({ to }: PictureJob, trouble: Trouble): FinishError => new FinishError(sentenceFor(trouble), to);

function sentenceFor(trouble: Trouble): string {
  switch (trouble.kind) {
    case 'refused':
      return trouble.sentence;
    case 'closed':
      return 'Finishing was stopped; the pictures made so far stay, make them again to go on.';
    case 'cannot-start':
      return `Expected the finisher to start but it ${trouble.why}. Install the program again; the pictures made so far stay.`;
  }
}
