/** Riders as cards: those on the page already, or fetched a dozen at a time from beside the index. */
import { CARDS_A_FILE } from './cardsAFile.js';
import { all } from './dom.js';
import type { IndexFiles } from './indexFiles.js';

export interface Cards {
  /** All that stood on the page before anything was asked. */
  readonly standing: readonly HTMLElement[];
  /** By the riders' places in the index. */
  get(riders: readonly number[]): Promise<readonly HTMLElement[]>;
}

export function cardsOf(list: HTMLElement, files: IndexFiles, fileName: (n: number) => string): Cards {
  const standing = all('[data-rider]', list);
  return {
    standing,
    async get(riders) {
      const { starts } = await files.top();
      if (standing.length === starts.length - 1) return riders.map((rider) => standing[rider]!);
      const count = starts.length - 1;
      return Promise.all(riders.map(async (rider) => document.importNode(await cardOf(rider, count), true)));
    },
  };

  /** A file that lost a card to a takedown tells no longer whose the others are. */
  async function cardOf(rider: number, count: number): Promise<HTMLElement> {
    const n = Math.floor(rider / CARDS_A_FILE);
    const some = cardsIn(await files.text(fileName(n)));
    const expected = Math.min(CARDS_A_FILE, count - n * CARDS_A_FILE);
    if (some.length !== expected)
      throw new Error(`Expected ${expected} cards in ${fileName(n)} but there are ${some.length}.`);
    return some[rider % CARDS_A_FILE]!;
  }
}

const cardsIn = (html: string): readonly HTMLElement[] =>
  all('[data-rider]', new DOMParser().parseFromString(html, 'text/html'));
