/** Progress in the terminal: bars where a person watches, a line every few seconds where a file does. */
import { MultiBar, type SingleBar } from 'cli-progress';
import type { CardProgress } from '../core/bringin/types.js';
import type { VerifyProgress } from '../host/bringin/index.js';
import { bytesInWords, counted, onOneLine, secondsInWords } from './words.js';

/** Where one piece of work stands. Only what has ended is shown as a whole hundred. */
export interface Standing {
  readonly name: string;
  readonly done: number;
  readonly total: number;
  readonly words: string;
  readonly hasEnded: boolean;
}

export interface ProgressBoard {
  show(standing: Standing): void;
  /** A line that stays, above the bars. */
  say(line: string): void;
  /** Nothing is shown after it. */
  close(): void;
}

const quietSeconds = 5;

export function createProgressBoard(): ProgressBoard {
  return process.stdout.isTTY ? barBoard() : lineBoard();
}

function barBoard(): ProgressBoard {
  const bars = new MultiBar({
    format: '{name} {bar} {share} %  {words}',
    clearOnComplete: false,
    hideCursor: true,
    barsize: 24,
  });
  const byName = new Map<string, SingleBar>();
  let isClosed = false;
  return {
    show(standing) {
      if (isClosed) return;
      const name = onOneLine(standing.name);
      const bar = byName.get(name) ?? bars.create(100, 0, { name, words: '', share: 0 });
      byName.set(name, bar);
      const share = percentOf(standing);
      bar.update(share, { name, words: standing.words, share });
    },
    say: (line) => bars.log(`${line}\n`),
    close() {
      isClosed = true;
      bars.stop();
    },
  };
}

export function lineBoard(
  say: (line: string) => void = console.log,
  now: () => number = () => performance.now(),
): ProgressBoard {
  const shown = new Map<string, { readonly at: number; readonly standing: Standing }>();
  let isClosed = false;
  return {
    say,
    show(standing) {
      if (isClosed) return;
      const before = shown.get(standing.name);
      const isNewWork = before === undefined || standing.done < before.standing.done;
      if (!isNewWork && before.standing.hasEnded) return;
      const isDue = isNewWork || now() - before.at > quietSeconds * 1000;
      if (!isDue && !standing.hasEnded) return;
      shown.set(standing.name, { at: now(), standing });
      say(`${onOneLine(standing.name)}: ${percentOf(standing)} %  ${standing.words}`);
    },
    close() {
      isClosed = true;
    },
  };
}

function percentOf({ done, total, hasEnded }: Standing): number {
  if (total === 0) return hasEnded ? 100 : 0;
  return Math.min(Math.floor((100 * done) / total), hasEnded ? 100 : 99);
}

/** Reading, writing and reading back share one bar: each is a part of the same work. */
export function standingOfCard(card: CardProgress): Standing {
  const perFile = 1 + 2 * card.copies.length;
  const hasEnded = card.state === 'finished' || card.state === 'stopped';
  return {
    name: card.card,
    done: card.bytesRead + card.copies.reduce((sum, copy) => sum + copy.bytesWritten + copy.bytesReadBack, 0),
    total: card.bytesTotal * perFile,
    words: cardWords(card),
    hasEnded,
  };
}

function cardWords(card: CardProgress): string {
  if (card.state === 'listing') return 'looking at what is on it';
  const here = card.alreadyHere ?? 0;
  if (card.filesTotal === 0) return here === 0 ? 'nothing to copy' : `${counted(here, 'file')}, all here already`;
  const left = card.secondsLeft === null ? '' : `, ${secondsInWords(card.secondsLeft)} left`;
  const known = here === 0 ? '' : `, ${here} here already`;
  return `${card.filesRead} of ${counted(card.filesTotal, 'file')}, ${bytesInWords(card.bytesRead)}${known}${left}`;
}

export const standingOfVerify = ({ filesDone, filesTotal, bytesDone, bytesTotal }: VerifyProgress): Standing => ({
  name: 'reading back',
  done: bytesDone,
  total: bytesTotal,
  words: `${filesDone} of ${counted(filesTotal, 'file')}, ${bytesInWords(bytesDone)}`,
  hasEnded: filesDone === filesTotal,
});
