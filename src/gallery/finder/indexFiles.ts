/** The index by its files: each is fetched once, and only when a question needs it. */
import { readTop, search, type Top } from '../../core/handover/find/search.js';
import type { Criterion, FoundRider } from '../../core/handover/find/types.js';

export class IndexFiles {
  readonly #folder: string;
  readonly #mark: string;
  readonly #texts = new Map<string, Promise<string>>();
  #top: Promise<Top> | null = null;

  /** @param mark tells this index from an older one that the phone may have kept */
  constructor(folder: string, mark: string) {
    this.#folder = folder;
    this.#mark = mark;
  }

  top(): Promise<Top> {
    this.#top ??= this.text('top.txt').then(readTop);
    return this.#top;
  }

  async search(criteria: readonly Criterion[]): Promise<readonly FoundRider[]> {
    return search(await this.top(), criteria, (file) => this.text(`${file}.txt`));
  }

  text(name: string): Promise<string> {
    const known = this.#texts.get(name);
    if (known !== undefined) return known;
    const coming = fetch(`${this.#folder}${name}?${this.#mark}`).then((answer) => {
      if (!answer.ok) throw new Error(`Expected ${name} but the server answered ${answer.status}.`);
      return answer.text();
    });
    this.#texts.set(name, coming);
    // With a better signal it may come.
    coming.catch(() => {
      this.#texts.delete(name);
      this.#top = null;
    });
    return coming;
  }
}
