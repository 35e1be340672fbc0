/** What is chosen on the page, as criteria; and how it is kept, so that going back finds it as it was. */
import { hiddenKey, wordsOf } from '../../core/handover/find/keys.js';
import { quarterOf } from '../../core/handover/find/quarters.js';
import type { Criterion, FindFacet } from '../../core/handover/find/types.js';
import { all, byId } from './dom.js';

type Field = HTMLInputElement | HTMLSelectElement;

export class Asked {
  readonly boxes = all('[data-session], [data-colour]');
  readonly fields = all('[data-find]').filter((one): one is Field => 'value' in one);

  criteria(meeting: string): readonly Criterion[] {
    return [
      { facet: 'session', keys: this.#pressed('session') },
      { facet: 'bike', keys: this.#pressed('colour') },
      ...this.fields.flatMap((field) => criteriaOf(field.dataset.find as FindFacet, field.value.trim(), meeting)),
      ...cardAsked(meeting),
    ];
  }

  isAnything(): boolean {
    return this.boxes.some(isPressed) || this.fields.some((field) => field.value.trim() !== '') || cardOf() !== null;
  }

  clear(): void {
    for (const box of this.boxes) press(box, false);
    for (const field of this.fields) field.value = '';
    if (cardOf() !== null) history.replaceState(null, '', location.pathname);
  }

  remember(): void {
    const on = this.boxes.flatMap((box, i) => (isPressed(box) ? [i] : []));
    history.replaceState({ on, fields: this.fields.map((field) => field.value) }, '');
  }

  recall(): void {
    const state = history.state as { on?: unknown; fields?: unknown } | null;
    if (!Array.isArray(state?.on) || !Array.isArray(state.fields)) return;
    for (const [i, box] of this.boxes.entries()) press(box, state.on.includes(i));
    for (const [i, field] of this.fields.entries()) {
      field.value = String(state.fields[i] ?? '');
      const fold = field.closest('details');
      // What counts is to be seen.
      if (fold !== null && field.value !== '') fold.open = true;
    }
  }

  #pressed(name: 'session' | 'colour'): readonly string[] {
    return this.boxes.filter(isPressed).flatMap((box) => box.dataset[name] ?? []);
  }
}

export const isPressed = (box: HTMLElement): boolean => box.getAttribute('aria-pressed') === 'true';
export const press = (box: HTMLElement, isOn: boolean): void => box.setAttribute('aria-pressed', String(isOn));

function criteriaOf(facet: FindFacet, value: string, meeting: string): readonly Criterion[] {
  if (value === '') return [];
  if (facet === 'word') return wordsOf(value).map((word) => ({ facet, keys: [hiddenKey(meeting, word)] }));
  if (facet !== 'time') return [{ facet, keys: [value] }];
  const [hours, minutes] = value.split(':').map(Number);
  return [{ facet, keys: [String(quarterOf(((hours ?? 0) * 60 + (minutes ?? 0)) * 60_000))] }];
}

/** The number card behind the address: browsers send that part to nobody. */
const cardOf = (): string | null => /^#TWN1:\d{1,4}:([A-Z2-7]{26}):/.exec(location.hash)?.[1] ?? null;

function cardAsked(meeting: string): readonly Criterion[] {
  const token = cardOf();
  return token === null ? [] : [{ facet: 'card', keys: [hiddenKey(meeting, token)] }];
}

/** A key in the page's own words: of a colour as its box or choice says it. */
export function wordOf(facet: FindFacet, key: string): string {
  if (facet === 'time') return `${clock(Number(key))}–${clock(Number(key) + 1)}`;
  if (facet === 'bike') return all(`[data-colour="${CSS.escape(key)}"]`)[0]?.textContent?.trim() ?? key;
  const field = byId<HTMLSelectElement>(`by-${facet}`);
  const choice = field?.tagName === 'SELECT' ? [...field.options].find((one) => one.value === key) : undefined;
  return choice?.text ?? decodeURIComponent(key);
}

const clock = (quarter: number): string =>
  `${String(Math.floor(quarter / 4) % 24).padStart(2, '0')}:${String((quarter % 4) * 15).padStart(2, '0')}`;
