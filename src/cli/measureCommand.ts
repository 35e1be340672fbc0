/** `tyrewall measure <meeting>`: measures what is left, then looks at the best few frames of every pass in full. */
import { openWholeDay, type WholeDay } from './openWholeDay.js';
import { createProgressBoard, type ProgressBoard } from './progress.js';
import { counted, onOneLine, secondsInWords } from './words.js';

export interface MeasureWish {
  readonly stateRoot?: string;
}

export async function measureCommand(
  folder: string,
  wish: MeasureWish = {},
  say: (line: string) => void = console.log,
): Promise<void> {
  const { stateRoot } = wish;
  const whole = await openWholeDay(folder, { judges: true, ...(stateRoot === undefined ? {} : { stateRoot }) });
  const board = createProgressBoard();
  const stop = stopOnInterrupt(whole, board);
  const unsubscribe = whole.day.subscribe((event) => {
    if (event.kind === 'state') showLooking(board, whole);
  });
  try {
    const { judged, judging } = await whole.day.allJudged();
    showLooking(board, whole);
    board.close();
    for (const notice of whole.day.notices()) say(onOneLine(notice));
    say(`${counted(judged.size, 'bike')} looked at in full, ${judging.done} of them now.`);
    if (judging.withoutOriginal > 0) say(withoutOriginals(judging.withoutOriginal));
    if (judging.heldUpBy !== null) process.exitCode = 1;
  } finally {
    unsubscribe();
    stop.forget();
    board.close();
    await whole.close();
  }
}

const withoutOriginals = (count: number): string =>
  `${counted(count, 'bike')} not looked at: the originals are not on this machine. Plug in the disk that has them, and say it again.`;

function showLooking(board: ProgressBoard, { day }: WholeDay): void {
  const { toMeasure, pixels, judging } = day.state();
  if (toMeasure.left > 0) {
    const words = `${counted(pixels.size, 'frame')}${leftWords(toMeasure.secondsLeft)}`;
    board.show({ name: 'measuring', done: pixels.size, total: pixels.size + toMeasure.left, words, hasEnded: false });
    return;
  }
  const total = judging.done + judging.left;
  if (total === 0) return;
  const hasEnded = judging.left === 0;
  const words = `${counted(judging.done, 'bike')}${hasEnded ? '' : leftWords(judging.secondsLeft)}`;
  board.show({ name: 'looking in full', done: judging.done, total, words, hasEnded });
}

const leftWords = (seconds: number | null): string => (seconds === null ? '' : `, ${secondsInWords(seconds)} left`);

/** What is looked at already stays; the next run goes on from there. */
function stopOnInterrupt(whole: WholeDay, board: ProgressBoard): { forget(): void } {
  const stop = (): void => {
    forget();
    board.close();
    console.log('Stopping after the frames in hand. Say the same again to go on.');
    void whole.close().then(() => process.exit(130));
  };
  const endings = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
  const forget = (): void => {
    for (const ending of endings) process.off(ending, stop);
  };
  for (const ending of endings) process.on(ending, stop);
  return { forget };
}
