/** Small help with the page; what a page lacks is null, and whoever asks goes without. */
export const byId = <E extends HTMLElement = HTMLElement>(id: string): E | null =>
  document.getElementById(id) as E | null;

export const all = (selector: string, within: ParentNode = document): readonly HTMLElement[] => [
  ...within.querySelectorAll<HTMLElement>(selector),
];

/** Words of the page's own language lie on it as data. */
export function wordsOn<Words>(element: HTMLElement): Words {
  return JSON.parse(element.dataset.words ?? '{}') as Words;
}

export type Forms = Readonly<Partial<Record<Intl.LDMLPluralRule, string>>> & { readonly other: string };

const plurals = new Intl.PluralRules(document.documentElement.lang);
const digits = new Intl.NumberFormat(document.documentElement.lang);

export const counted = (forms: Forms, n: number): string =>
  (forms[plurals.select(n)] ?? forms.other).replace('{n}', digits.format(n));

/** Storage may be full or forbidden; then it is forgotten with the page. */
export function kept<Value>(key: string, otherwise: Value): Value {
  try {
    return (JSON.parse(localStorage.getItem(key) ?? 'null') as Value | null) ?? otherwise;
  } catch {
    return otherwise;
  }
}

export function keep(key: string, value: unknown): void {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Nothing to be done on a phone that keeps nothing.
  }
}
