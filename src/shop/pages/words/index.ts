/** The service's words in the gallery's languages, and which of them a visitor reads. */
import { ar } from './ar.js';
import { de } from './de.js';
import { en, type Words } from './en.js';
import { es } from './es.js';
import { fr } from './fr.js';
import { it } from './it.js';

export type { Words } from './en.js';

export const wordsOf = { en, de, fr, it, es, ar } as const satisfies Record<string, Words>;
export type Language = keyof typeof wordsOf;
export const LANGUAGES = Object.keys(wordsOf) as readonly Language[];

/** For dates and figures: English as it is written in Britain. */
export const localeOf = (language: Language): string => (language === 'en' ? 'en-GB' : language);

export const isLanguage = (text: string | undefined): text is Language =>
  text !== undefined && Object.hasOwn(wordsOf, text);

/** By RFC 9110's `Accept-Language`: the best weighted that is here, whatever its region; English where none is. */
export function languageFor(accepted: string | undefined): Language {
  const asked = (accepted ?? '')
    .slice(0, 200)
    .split(',')
    .map((part, place) => {
      const [range = '', ...rest] = part.trim().split(';');
      const weight = rest
        .map((one) => /^\s*q=([01](?:\.\d{0,3})?)\s*$/.exec(one)?.[1])
        .find((one) => one !== undefined);
      return { language: range.split('-')[0]!.toLowerCase(), weight: Number(weight ?? 1), place };
    });
  const best = asked.sort((a, b) => b.weight - a.weight || a.place - b.place);
  const found = best.find(({ language, weight }) => weight > 0 && isLanguage(language))?.language;
  return isLanguage(found) ? found : 'en';
}
