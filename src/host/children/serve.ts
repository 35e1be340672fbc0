/** The loop of a child process: an answer or a sentence for each job. */
import type { FromChild, ToChild } from './protocol.js';

/** Serves until the parent goes away; then the child ends too, whatever it is doing. */
export const serve = <Job, Answer>(handle: (job: Job) => Promise<Answer>): void => {
  const say = (message: FromChild<Answer>): void => {
    process.send?.(message);
  };
  const answer = async ({ id, job }: ToChild<Job>): Promise<void> => {
    try {
      const done = await handle(job);
      say({ kind: 'answer', id, answer: done, residentBytes: process.memoryUsage.rss() });
    } catch (error) {
      say({ kind: 'refused', id, sentence: (error as Error).message });
    }
  };
  process.on('disconnect', () => process.exit(0));
  process.on('message', (message: ToChild<Job>) => {
    void answer(message);
  });
  say({ kind: 'ready' });
};
