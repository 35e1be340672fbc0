/** The loop of a measuring child: one job at a time, an answer or a sentence for each. */
import type { FromChild, ToChild } from './protocol.js';
import type { MeasureAnswer, MeasureJob } from './types.js';

const say = (message: FromChild): void => {
  process.send?.(message);
};

/** Serves until the parent goes away; then the child ends too, whatever it is doing. */
export const serve = (handle: (job: MeasureJob) => Promise<MeasureAnswer>): void => {
  process.on('disconnect', () => process.exit(0));
  process.on('message', (message: ToChild) => {
    void answer(message, handle);
  });
  say({ kind: 'ready' });
};

const answer = async ({ id, job }: ToChild, handle: (job: MeasureJob) => Promise<MeasureAnswer>): Promise<void> => {
  try {
    const done = await handle(job);
    say({ kind: 'answer', id, answer: done, residentBytes: process.memoryUsage.rss() });
  } catch (error) {
    say({ kind: 'refused', id, sentence: (error as Error).message });
  }
};
