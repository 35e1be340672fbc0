/**
 * Many who wait, one flush: whatever arrives while a flush runs is written together by the next one. Writes are
 * never side by side, so lines stand in the file in the order of their numbers.
 */

export interface GroupCommit<Item, Answer> {
  add(item: Item): Promise<Answer>;
  /** Resolves when nothing is waiting any more. */
  idle(): Promise<void>;
}

interface Waiting<Item, Answer> {
  readonly item: Item;
  readonly resolve: (answer: Answer) => void;
  readonly reject: (problem: unknown) => void;
}

/** `commit` gets all waiting items and answers them in the same order; when it throws, all of them fail. */
export function groupCommit<Item, Answer>(
  commit: (items: readonly Item[]) => Promise<readonly Answer[]>,
): GroupCommit<Item, Answer> {
  let waiting: Waiting<Item, Answer>[] = [];
  let running: Promise<void> | null = null;

  const commitAll = async (): Promise<void> => {
    while (waiting.length > 0) {
      const batch = waiting;
      waiting = [];
      try {
        const answers = await commit(batch.map(({ item }) => item));
        for (const [i, { resolve }] of batch.entries()) resolve(answers[i] as Answer);
      } catch (problem) {
        for (const { reject } of batch) reject(problem);
      }
    }
    running = null;
  };

  return {
    add: (item) =>
      new Promise((resolve, reject) => {
        waiting.push({ item, resolve, reject });
        running ??= Promise.resolve().then(commitAll);
      }),
    idle: async () => {
      while (running !== null) await running;
    },
  };
}
