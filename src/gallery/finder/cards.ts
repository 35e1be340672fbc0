/** Riders as cards: those on the page already, or fetched a dozen at a time from beside the index. */
import { all } from './dom.js';
import type { IndexFiles } from './indexFiles.js';

/** As `cardFiles` lays them. */
const CARDS_A_FILE = 12;

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
      return Promise.all(
        riders.map(async (rider) => {
          const name = fileName(Math.floor(rider / CARDS_A_FILE));
          const card = cardsIn(await files.text(name))[rider % CARDS_A_FILE];
          if (card === undefined) throw new Error(`Expected a card of rider ${rider} in ${name}.`);
          return document.importNode(card, true);
        }),
      );
    },
  };
}

const cardsIn = (html: string): readonly HTMLElement[] =>
  all('[data-rider]', new DOMParser().parseFromString(html, 'text/html'));
