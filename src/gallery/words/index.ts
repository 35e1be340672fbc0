/** The gallery's languages, and how a page says something in one of them. */

import type { Livery } from '../../core/arrange/types.js';
import { xml } from '../../core/finish/index.js';
import type { ColourName } from '../../core/measure/types.js';
import { ar } from './ar.js';
import { de } from './de.js';
import { en, enColours, type Messages, type Words } from './en.js';
import { es } from './es.js';
import { fr } from './fr.js';
import { it } from './it.js';

export const wordsOf = {
  en: { name: 'English', comma: ', ', colours: enColours, messages: en },
  de,
  fr,
  it,
  es,
  ar,
} as const satisfies Record<string, Words>;
export type Language = keyof typeof wordsOf;
export const LANGUAGES = Object.keys(wordsOf) as readonly Language[];

/** Beside such a name a figure would change sides (Unicode Bidirectional Algorithm, UAX #9). */
const RIGHT_TO_LEFT = /[\p{Script=Arabic}\p{Script=Hebrew}]/u;
export const isRightToLeft = (language: Language): boolean => language === 'ar';

type HolesIn<Text extends string> = Text extends `${string}{${infer Hole}}${infer Rest}` ? Hole | HolesIn<Rest> : never;
type English<Key extends keyof Messages> = (typeof en)[Key] extends string
  ? (typeof en)[Key]
  : (typeof en)[Key] extends { readonly other: infer Other extends string }
    ? Other
    : never;
type Filling<Key extends keyof Messages> = [HolesIn<English<Key>>] extends [never]
  ? []
  : [holes: { readonly [Hole in HolesIn<English<Key>>]: Hole extends 'n' ? number : string | number }];

/** A language as pages speak it. */
export interface Tongue {
  readonly language: Language;
  /** Where its pages lie, from the gallery's root: nothing for the photographer's own language, else `de/`. */
  readonly folder: string;
  /** As text; whoever puts it on a page escapes it. */
  say<Key extends keyof Messages>(key: Key, ...filling: Filling<Key>): string;
  /** As HTML: the message is escaped, what fills it is HTML already. */
  html<Key extends keyof Messages>(key: Key, ...filling: Filling<Key>): string;
  /** A name somebody gave, as HTML: its direction is its own. */
  name(text: string): string;
  colour(colour: ColourName): string;
  livery(look: Livery): string;
  /** Parts of a list that is no sentence. */
  list(parts: readonly string[]): string;
  /** "Beacon, Strand or Gannet". */
  either(names: readonly string[]): string;
  /** `Saturday 19 September 2026`, of `YYYY-MM-DD`. */
  day(day: string, isOne: boolean): string;
}

/** Of a language's pages, from the gallery's root. */
export const folderOf = (language: Language, home: Language): string => (language === home ? '' : `${language}/`);

export function tongueOf(language: Language, home: Language): Tongue {
  const { messages, comma, colours, worn }: Words = wordsOf[language];
  const plurals = new Intl.PluralRules(language);
  const eitherOf = new Intl.ListFormat(language, { type: 'disjunction' });
  const fill = (
    key: keyof Messages,
    written: (text: string) => string,
    holes: Readonly<Record<string, string | number>> = {},
  ) => {
    const message = messages[key];
    const text = typeof message === 'string' ? message : (message[plurals.select(Number(holes.n))] ?? message.other);
    return written(text).replace(/\{(\w+)\}/g, (_, hole: string) => String(holes[hole]));
  };
  const tongue: Tongue = {
    language,
    folder: folderOf(language, home),
    say: (key, ...[holes]) => fill(key, (text) => text, holes),
    html: (key, ...[holes]) => fill(key, xml, holes),
    name: (text) => (isRightToLeft(language) || RIGHT_TO_LEFT.test(text) ? `<bdi>${xml(text)}</bdi>` : xml(text)),
    colour: (colour) => colours[colour],
    livery: ({ bike, isMulticoloured, leathers, helmet }) => {
      const painted = bike.map((colour) => (worn?.bike ?? colours)[colour]).join(' / ');
      const parts = [
        isMulticoloured ? tongue.say('multicoloured', { colours: painted }) : painted,
        leathers === null ? '' : tongue.say('leathers', { colour: (worn?.leathers ?? colours)[leathers] }),
        helmet === null ? '' : tongue.say('helmet', { colour: (worn?.helmet ?? colours)[helmet] }),
      ];
      return tongue.list(parts) || tongue.say('coloursUnknown');
    },
    list: (parts) => parts.filter((part) => part !== '').join(comma),
    either: (names) => eitherOf.format(names),
    day: (day, isOne) => dayIn(language, day, isOne),
  };
  return tongue;
}

const REGION: Readonly<Partial<Record<Language, string>>> = { en: 'en-GB', ar: 'ar-u-nu-latn' };

function dayIn(language: Language, day: string, isOne: boolean): string {
  const format = new Intl.DateTimeFormat(REGION[language] ?? language, {
    timeZone: 'UTC',
    ...(isOne ? { weekday: 'long' } : {}),
    day: 'numeric',
    month: 'long',
    year: 'numeric',
  });
  const text = format.format(new Date(`${day}T00:00:00Z`));
  // The comma British English now puts behind the weekday reads badly inside a sentence.
  return language === 'en' ? text.replace(',', '') : text;
}
