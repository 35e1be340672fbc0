/** Progress in the terminal: bars where a person watches, a line every few seconds where a file does. */
import { MultiBar, type SingleBar } from 'cli-progress';
import type { CardProgress } from '../core/bringin/types.js';
import { bytesInWords, secondsInWords } from './words.js';

export interface ProgressBoard {
  show(name: string, done: number, total: number, words: string): void;
  close(): void;
}

const quietSeconds = 5;

export function createProgressBoard(): ProgressBoard {
  return process.stdout.isTTY ? barBoard() : lineBoard();
}

function barBoard(): ProgressBoard {
  const bars = new MultiBar({
    format: '{name} {bar} {percentage} %  {words}',
    clearOnComplete: false,
    hideCursor: true,
    barsize: 24,
  });
  const byName = new Map<string, SingleBar>();
  return {
    show(name, done, total, words) {
      let bar = byName.get(name);
      if (bar === undefined) {
        bar = bars.create(Math.max(1, total), 0, { name, words });
        byName.set(name, bar);
      }
      bar.setTotal(Math.max(1, total));
      bar.update(done, { name, words });
    },
    close: () => bars.stop(),
  };
}

function lineBoard(): ProgressBoard {
  const shown = new Map<string, number>();
  return {
    show(name, done, total, words) {
      const now = performance.now();
      const isDue = now - (shown.get(name) ?? Number.NEGATIVE_INFINITY) > quietSeconds * 1000;
      const isDone = total > 0 && done >= total;
      if (!isDue && !(isDone && shown.get(name) !== Number.POSITIVE_INFINITY)) return;
      shown.set(name, isDone ? Number.POSITIVE_INFINITY : now);
      console.log(`${name}: ${total === 0 ? 0 : Math.floor((100 * done) / total)} %  ${words}`);
    },
    close: () => undefined,
  };
}

/** Reading, writing and reading back share one bar: each is a part of the same work. */
export function showCard(board: ProgressBoard, card: CardProgress): void {
  const perFile = 1 + 2 * card.copies.length;
  const total = card.bytesTotal * perFile;
  const done = card.bytesRead + card.copies.reduce((sum, copy) => sum + copy.bytesWritten + copy.bytesReadBack, 0);
  const left = card.secondsLeft === null ? '' : `, ${secondsInWords(card.secondsLeft)} left`;
  board.show(
    card.card,
    done,
    total,
    `${card.filesRead} of ${card.filesTotal} files, ${bytesInWords(card.bytesRead)}${left}`,
  );
}
