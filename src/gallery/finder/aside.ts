/**
 * "Not me": one picture is put aside on this phone at once and stays aside; the photographer is told where there is a
 * service, as soon as there is a signal.
 */
import { all, byId, keep, kept, wordsOn } from './dom.js';

interface Words {
  readonly notMe: string;
  readonly putBack: string;
}

export function startAside(): void {
  const part = byId('aside');
  if (part !== null) new Aside(part).start();
}

class Aside {
  readonly #part: HTMLElement;
  readonly #list: HTMLElement;
  readonly #rider: string;
  readonly #words: Words;
  readonly #pictures: ReadonlyMap<
    string,
    { readonly item: HTMLElement; readonly home: HTMLElement; readonly at: number }
  >;
  #ids: readonly string[];

  constructor(part: HTMLElement) {
    this.#part = part;
    this.#list = part.querySelector('ul')!;
    this.#rider = part.dataset.rider ?? '';
    this.#words = wordsOn(part);
    this.#ids = kept<readonly string[]>(this.#key('aside'), []);
    this.#pictures = new Map(
      all('[data-picture]').map((item, at) => [item.dataset.picture!, { item, home: item.parentElement!, at }]),
    );
  }

  start(): void {
    for (const [id, { item }] of this.#pictures) this.#equip(id, item);
    // Where nothing is aside, nothing is moved.
    if (this.#ids.length > 0) this.#lay();
    void this.#tell();
    addEventListener('online', () => void this.#tell());
  }

  /** The page's own way to say it where there is one, else a button. */
  #equip(id: string, item: HTMLElement): void {
    let way = item.querySelector<HTMLElement>('button[name="picture"], .deeds a[href^="mailto:"]');
    if (way === null) {
      way = document.createElement('button');
      way.textContent = this.#words.notMe;
      const deeds = item.querySelector('.deeds') ?? item.appendChild(document.createElement('span'));
      deeds.className = 'deeds';
      deeds.append(way);
    }
    const said = { words: way.textContent ?? '', label: way.getAttribute('aria-label') };
    way.addEventListener('click', (event) => {
      const isAside = !this.#ids.includes(id);
      // A letter is written by the mail program; the form is sent from here, without leaving the page.
      if (!isAside || way.tagName === 'BUTTON') event.preventDefault();
      this.#put(id, isAside);
      this.#name(way, said, isAside);
      (isAside ? this.#part.querySelector<HTMLElement>('h2') : way)?.focus();
    });
    this.#name(way, said, this.#ids.includes(id));
  }

  #name(way: HTMLElement, said: { readonly words: string; readonly label: string | null }, isAside: boolean): void {
    way.textContent = isAside ? this.#words.putBack : said.words;
    if (said.label !== null)
      way.setAttribute('aria-label', isAside ? `${this.#words.putBack}: ${said.label}` : said.label);
  }

  #put(id: string, isAside: boolean): void {
    this.#ids = isAside ? [...this.#ids, id] : this.#ids.filter((one) => one !== id);
    keep(this.#key('aside'), this.#ids);
    const untold = kept<readonly string[]>(this.#key('untold'), []).filter((one) => one !== id);
    keep(this.#key('untold'), isAside ? [...untold, id] : untold);
    this.#lay();
    void this.#tell();
  }

  #lay(): void {
    const back = [...this.#pictures].filter(([id]) => !this.#ids.includes(id)).sort(([, a], [, b]) => a.at - b.at);
    for (const [, { item, home }] of back) home.append(item);
    this.#list.replaceChildren(...this.#ids.flatMap((id) => this.#pictures.get(id)?.item ?? []));
    this.#part.hidden = this.#list.childElementCount === 0;
    for (const section of all('.parts .part')) section.hidden = section.querySelector('[data-picture]') === null;
  }

  /** Nothing is heard back from another site: what was sent is told, what could not be sent is sent later. */
  async #tell(): Promise<void> {
    const form = byId<HTMLFormElement>('not-me');
    if (form === null || form.method !== 'post') return;
    for (const picture of kept<readonly string[]>(this.#key('untold'), [])) {
      const body = new URLSearchParams([...new FormData(form).entries()].map(([name, value]) => [name, String(value)]));
      body.set('picture', picture);
      try {
        await fetch(form.action, { method: 'POST', mode: 'no-cors', body, keepalive: true });
      } catch {
        return;
      }
      keep(
        this.#key('untold'),
        kept<readonly string[]>(this.#key('untold'), []).filter((one) => one !== picture),
      );
    }
  }

  #key(what: 'aside' | 'untold'): string {
    return `${what}:${this.#rider}`;
  }
}
