/** Keeps the meeting's copies on other disks up to date, so that any of them can be opened when this one fails. */
import { bringTogether } from '../meeting/index.js';

export interface SecondDisks {
  /** Something was said or measured; copies follow within {@link REST_MS}. */
  changed(): void;
  /** Brings all copies up to date now. */
  bring(): Promise<void>;
  /** Brings them up to date a last time. */
  close(): Promise<void>;
}

/** How much work a failing disk may cost at most, against how often a second disk is woken. */
const REST_MS = 20_000;

export function secondDisks(
  folder: string,
  disks: readonly string[],
  onTrouble: (sentence: string) => void,
): SecondDisks {
  let timer: NodeJS.Timeout | null = null;
  let running: Promise<void> = Promise.resolve();

  const bringAll = async (): Promise<void> => {
    for (const disk of disks) {
      const brought = await bringTogether(folder, disk).catch((problem: Error) => ({ notices: [problem.message] }));
      for (const sentence of brought.notices) onTrouble(sentence);
    }
  };
  const bring = (): Promise<void> => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    running = running.then(bringAll);
    return running;
  };
  return {
    changed() {
      if (disks.length > 0) timer ??= setTimeout(() => void bring(), REST_MS);
    },
    bring,
    close: bring,
  };
}
