/** Counts what one card has done and tells it, at most four times a second and at every change of state. */
import { basename } from 'node:path';
import type { CardProgress, CopyPlan, FormatVerdict } from '../../core/bringin/types.js';
import type { FillId } from '../../core/ids.js';

const tellEveryMs = 250;

export interface CardMeter {
  /** The card is about to be listed; whoever looks learns that what was said of it before no longer counts. */
  begun(): void;
  planned(plan: CopyPlan): void;
  read(bytes: number): void;
  fileRead(): void;
  written(destination: number, bytes: number): void;
  readBack(destination: number, bytes: number): void;
  trouble(sentence: string): void;
  /** Worth saying, but nothing is wrong. */
  note(sentence: string): void;
  troubles(): readonly string[];
  notes(): readonly string[];
  end(state: 'finished' | 'stopped', verdict: FormatVerdict): void;
}

export function makeMeter(
  card: string,
  disks: readonly string[],
  tell: (progress: CardProgress) => void,
  now: () => number = () => performance.now(),
): CardMeter {
  const copies = disks.map((disk) => ({ disk, bytesWritten: 0, bytesReadBack: 0 }));
  const troubles: string[] = [];
  const notes: string[] = [];
  let counted = {
    fill: '' as FillId,
    folder: basename(card),
    filesTotal: 0,
    bytesTotal: 0,
    alreadyHere: 0,
    filesRead: 0,
    bytesRead: 0,
  };
  let state: CardProgress['state'] = 'listing';
  let verdict: FormatVerdict | null = null;
  let isFirstPlan = true;
  let startedAt = now();
  let toldAt = Number.NEGATIVE_INFINITY;

  const secondsLeft = (): number | null => {
    const done = counted.bytesRead;
    if (done === 0 || state !== 'copying') return null;
    return Math.round((((now() - startedAt) / done) * (counted.bytesTotal - done)) / 1000);
  };
  const say = (always: boolean): void => {
    if (!always && now() - toldAt < tellEveryMs) return;
    toldAt = now();
    tell({
      card,
      ...counted,
      copies: copies.map((copy) => ({ ...copy })),
      troubles: [...troubles],
      notes: [...notes],
      verdict,
      secondsLeft: secondsLeft(),
      state,
    });
  };
  const count = (change: () => void): void => {
    change();
    say(false);
  };
  return {
    begun: () => say(true),
    planned: (plan) => {
      const copying = plan.steps.filter((step) => step.kind !== 'already-here');
      counted = {
        ...counted,
        fill: plan.fill,
        folder: plan.folder,
        filesTotal: counted.filesRead + copying.length,
        bytesTotal: counted.bytesRead + plan.bytesToCopy,
        alreadyHere: isFirstPlan ? plan.steps.length - copying.length : counted.alreadyHere,
      };
      isFirstPlan = false;
      state = 'copying';
      startedAt = now();
      say(true);
    },
    read: (bytes) => count(() => (counted.bytesRead += bytes)),
    fileRead: () => count(() => counted.filesRead++),
    written: (destination, bytes) => count(() => (copies[destination]!.bytesWritten += bytes)),
    readBack: (destination, bytes) => count(() => (copies[destination]!.bytesReadBack += bytes)),
    trouble: (sentence) => {
      if (!troubles.includes(sentence)) troubles.push(sentence);
      say(true);
    },
    note: (sentence) => void notes.push(sentence),
    troubles: () => troubles,
    notes: () => notes,
    end: (ended, judged) => {
      state = ended;
      verdict = judged;
      say(true);
    },
  };
}
