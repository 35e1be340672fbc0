/** Words of handing over, in the service's languages. */
import { type Language, localeOf } from '../../pages/words/index.js';
import { ar } from './ar.js';
import { de } from './de.js';
import { en, type HandingWords } from './en.js';
import { es } from './es.js';
import { fr } from './fr.js';
import { it } from './it.js';

export const handingWords: Readonly<Record<Language, HandingWords>> = { en, de, fr, it, es, ar };

const UNITS = ['kilobyte', 'megabyte', 'gigabyte'] as const;

/** In powers of 1,000, as networks count. */
export function sizeText(bytes: number, language: Language): string {
  const power = bytes < 1e6 ? 0 : bytes < 1e9 ? 1 : 2;
  const size = Math.max(bytes / 1000 ** (power + 1), power === 0 ? 1 : 0);
  const digits = { maximumFractionDigits: size < 10 && power > 0 ? 1 : 0 };
  return new Intl.NumberFormat(language, { style: 'unit', unit: UNITS[power]!, ...digits }).format(size);
}

export const dateText = (at: number, language: Language): string =>
  new Intl.DateTimeFormat(localeOf(language), { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(at));
/** With the zone said: it stands for what was agreed, and when. */
export const momentText = (at: number, language: Language): string =>
  new Intl.DateTimeFormat(localeOf(language), { dateStyle: 'long', timeStyle: 'long', timeZone: 'UTC' }).format(
    new Date(at),
  );
