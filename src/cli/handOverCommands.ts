/** `tyrewall finish` and `tyrewall hand-over`. */
import { makeMeetingGallery, makeMeetingProofs } from './handOver.js';
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { createProgressBoard } from './progress.js';

type Work = (whole: WholeDay, report: (progress: { done: number; total: number }) => void) => Promise<string>;

export const finishCommand = (folder: string): Promise<void> => withMeeting(folder, 'proofs', makeMeetingProofs);
export const handOverCommand = (folder: string): Promise<void> => withMeeting(folder, 'gallery', makeMeetingGallery);

async function withMeeting(folder: string, name: string, work: Work): Promise<void> {
  const whole = await openWholeDay(folder);
  try {
    console.log(await showing(name, (report) => work(whole, report)));
  } finally {
    await whole.close();
  }
}

/** Runs long work with its progress on screen. */
export async function showing(
  name: string,
  work: (report: (p: { done: number; total: number }) => void) => Promise<string>,
): Promise<string> {
  const board = createProgressBoard();
  try {
    return await work(({ done, total }) =>
      board.show({ name, done, total, words: `${done} of ${total}`, hasEnded: done === total }),
    );
  } finally {
    board.close();
  }
}
