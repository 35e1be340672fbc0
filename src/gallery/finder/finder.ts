/** Finding without leaving the page. */
import type { FoundRider, Why } from '../../core/handover/find/types.js';
import { Asked, isPressed, press, wordOf } from './asked.js';
import { type Cards, cardsOf } from './cards.js';
import { byId, counted, type Forms, wordsOn } from './dom.js';
import { IndexFiles } from './indexFiles.js';

/** As `finderWords` writes them onto the page. */
interface Words {
  readonly fit: Forms;
  readonly moreNear: Forms;
  readonly nobody: string;
  readonly near: string;
  readonly notFetched: string;
  readonly noSignal: string;
  readonly below: string;
  readonly riders: Forms;
  readonly showMore: string;
}

/** A phone's screenful, in as many files as a browser fetches at once from one server. */
const AT_ONCE = 6;
/** More come when asked for. */
const SHOWN = 24;

export function startFinder(): void {
  const part = byId('finder');
  const says = byId('fits');
  const list = document.querySelector<HTMLElement>('main .riders');
  if (part === null || says === null || list === null) return;
  new Finder(part, says, list).start();
}

class Finder {
  readonly #part: HTMLElement;
  readonly #says: HTMLElement;
  readonly #list: HTMLElement;
  readonly #words: Words;
  readonly #files: IndexFiles;
  readonly #cards: Cards;
  readonly #asked = new Asked();
  readonly #said: string;
  readonly #more = document.createElement('button');
  #question = 0;

  constructor(part: HTMLElement, says: HTMLElement, list: HTMLElement) {
    this.#part = part;
    this.#says = says;
    this.#list = list;
    this.#words = wordsOn(part);
    this.#said = says.textContent ?? '';
    const { index = '', mark = '', cards = '' } = part.dataset;
    this.#files = new IndexFiles(index, mark);
    this.#cards = cardsOf(list, this.#files, (n) => cards.replace('{n}', String(n)));
    this.#more.type = 'button';
    this.#more.hidden = true;
    this.#more.textContent = this.#words.showMore;
    list.after(this.#more);
  }

  start(): void {
    for (const box of this.#asked.boxes) this.#listen(box);
    for (const field of this.#asked.fields) field.addEventListener('input', () => void this.#show());
    byId('clear')?.addEventListener('click', () => {
      this.#asked.clear();
      void this.#show();
    });
    this.#asked.recall();
    this.#open(true);
    addEventListener('hashchange', () => void this.#show());
    addEventListener('online', () => void this.#show());
    byId('below')?.addEventListener('click', () => {
      this.#says.scrollIntoView();
      this.#list.querySelector('a')?.focus({ preventScroll: true });
    });
    if (this.#asked.isAnything()) void this.#show();
    // Once all that is to be seen has come: then the first question has one way less to go.
    else addEventListener('load', () => void this.#files.top().catch(() => null));
  }

  #open(isOpen: boolean): void {
    this.#part.hidden = !isOpen;
    const ask = byId('ask');
    if (ask !== null) ask.hidden = !isOpen;
  }

  #listen(box: HTMLElement): void {
    box.setAttribute('role', 'button');
    if (!box.hasAttribute('aria-pressed')) press(box, false);
    const act = (event: Event) => {
      // Links again, as without a script.
      if (this.#part.hidden) return;
      event.preventDefault();
      press(box, !isPressed(box));
      void this.#show();
    };
    box.addEventListener('click', act);
    box.addEventListener('keydown', (event) => {
      if (event.key === ' ') act(event);
    });
  }

  async #show(): Promise<void> {
    const question = ++this.#question;
    this.#asked.remember();
    if (!this.#asked.isAnything()) return this.#showAll();
    const isAsked = () => question === this.#question;
    try {
      const { meeting } = await this.#files.top();
      const found = await this.#files.search(this.#asked.criteria(meeting));
      const first = await this.#cards.get(found.slice(0, AT_ONCE).map((one) => one.rider));
      // Of two questions the later one is answered.
      if (!isAsked()) return;
      this.#showFound(found, first);
      const next = found.slice(AT_ONCE, SHOWN);
      const cards = await this.#cards.get(next.map((one) => one.rider));
      if (!isAsked()) return;
      this.#add(next, cards);
      this.#offerMore(found, first.length + cards.length);
    } catch {
      if (isAsked()) this.#giveUp();
    }
  }

  #showAll(): void {
    this.#more.hidden = true;
    for (const card of this.#cards.standing) withoutWhy(card);
    this.#list.replaceChildren(...this.#cards.standing);
    this.#says.textContent = this.#said;
    this.#sayBelow('');
  }

  /** Beside the boxes: a phone does not show yet what stands by the riders. */
  #sayBelow(text: string): void {
    const way = byId('below');
    if (way === null) return;
    way.hidden = text === '';
    way.textContent = text;
  }

  #showFound(found: readonly FoundRider[], cards: readonly HTMLElement[]): void {
    const exact = found.filter((one) => one.why.every(({ is }) => is === 'exact')).length;
    const near = found.length - exact;
    const { fit, moreNear, nobody } = this.#words;
    this.#says.textContent =
      found.length === 0
        ? nobody
        : [counted(fit, exact), near === 0 ? '' : counted(moreNear, near)].filter((words) => words !== '').join(' ');
    this.#sayBelow(this.#words.below.replace('{riders}', counted(this.#words.riders, found.length)));
    this.#list.replaceChildren();
    this.#add(found, cards);
    this.#more.hidden = true;
  }

  #add(found: readonly FoundRider[], cards: readonly HTMLElement[]): void {
    for (const [i, card] of cards.entries()) {
      withoutWhy(card);
      const why = this.#whyText(found[i]!.why);
      if (why !== null) card.querySelector('.who')?.append(whySpan(why));
      this.#list.append(card);
    }
  }

  #offerMore(found: readonly FoundRider[], shown: number): void {
    this.#more.hidden = shown >= found.length;
    this.#more.onclick = async () => {
      const next = found.slice(shown, shown + SHOWN);
      const cards = await this.#cards.get(next.map((one) => one.rider)).catch(() => null);
      if (cards === null) return this.#giveUp();
      this.#add(next, cards);
      this.#offerMore(found, shown + cards.length);
    };
  }

  /** A number that was read says so itself on its card. */
  #whyText(why: readonly Why[]): string | null {
    const near = why.filter(({ is }) => is === 'near').map(({ facet, key }) => wordOf(facet, key));
    return near.length === 0 ? null : this.#words.near.replace('{what}', near.join(', '));
  }

  /** From a disk, or where files are missing: the boxes lead to pages, as they do without a script. Without a signal it waits for one. */
  #giveUp(): void {
    this.#showAll();
    if (!navigator.onLine) {
      this.#says.textContent = this.#words.noSignal;
      this.#sayBelow(this.#words.noSignal);
      return;
    }
    this.#says.textContent = this.#words.notFetched;
    this.#open(false);
    for (const box of this.#asked.boxes) {
      box.removeAttribute('role');
      box.removeAttribute('aria-pressed');
    }
  }
}

function whySpan(text: string): HTMLElement {
  const span = document.createElement('span');
  span.className = 'why';
  span.textContent = text;
  return span;
}

const withoutWhy = (card: HTMLElement): void => card.querySelector('.why')?.remove();
