import { describe, expect, it } from 'vitest';
import { PRIVACY_TITLE, privacyNotice } from '../../core/handover/law/index.js';
import { termsWords } from '../../core/handover/organiser/termsWords.js';
import { handingWords } from '../../shop/handing/words/index.js';
import { wordsOf as orderWords } from '../../shop/pages/words/index.js';
import { lawWords } from '../../shop/pages/words/law.js';
import { shareWords } from '../../shop/sharing/words.js';
import { finderWords } from '../finder/words.js';
import { LANGUAGES, type Language } from './index.js';

/** What fills a hole, whatever it is for: found again in what comes out. */
const FILLING = ['7001', '7002', '7003'] as const;
const TERMS = { name: 'H1', meeting: 'H2', until: 'H3', credit: 'H4', contact: 'H5' } as const;
const ABOUT = { name: 'H1', firstDay: '2026-09-19', credit: 'H2', contact: 'H3' } as const;

const FILES: Readonly<Record<string, (language: Language) => unknown>> = {
  'of finding': (language) => finderWords[language],
  'of privacy': (language) => ({
    title: PRIVACY_TITLE[language],
    ...privacyNotice(language, ABOUT, { galleries: 7001 }).paragraphs,
  }),
  'of the organiser’s terms': (language) => termsWords[language](TERMS),
  'of the organiser’s page': (language) => shareWords[language],
  'of orders': (language) => orderWords[language],
  'of the law on orders': (language) => lawWords[language],
  'of handing over': (language) => handingWords[language],
};

/** Every text by its path. Of what is counted one form may lack the figure; `other` never does. */
function textsIn(words: unknown, path = ''): readonly (readonly [path: string, text: string])[] {
  if (words === null) return [];
  if (typeof words === 'string') return [[path, words]];
  if (typeof words === 'function')
    return textsIn((words as (...holes: readonly string[]) => unknown)(...FILLING), path);
  const entries = Object.entries(words as Readonly<Record<string, unknown>>);
  const counted = entries.find(([key]) => key === 'other' && entries.every(([, form]) => typeof form === 'string'));
  if (counted) return [[path, counted[1] as string]];
  return entries.flatMap(([key, inner]) => textsIn(inner, `${path}/${key}`));
}

const holesOf = (text: string) => [...new Set(text.match(/\{\w+\}|700\d|H\d/g) ?? [])].sort();

describe.each(Object.entries(FILES))('GA1: the words %s', (_, wordsIn) => {
  const english = new Map(textsIn(wordsIn('en')));

  it.each(LANGUAGES)('are all there in %s, with the same holes, and are its own', (language) => {
    const texts = textsIn(wordsIn(language));
    expect(texts.length).toBeGreaterThan(5);
    // What is said only where two languages differ may lack in one of them.
    const paths = texts.map(([path]) => path).filter((path) => path !== '/paperLanguage');
    expect(paths).toEqual([...english.keys()].filter((path) => path !== '/paperLanguage'));
    for (const [path, text] of texts) {
      expect(text.trim(), path).not.toBe('');
      if (english.has(path)) expect(holesOf(text), path).toEqual(holesOf(english.get(path)!));
    }
    const same = texts.filter(([path, text]) => language !== 'en' && english.get(path) === text).map(([path]) => path);
    expect(same.length / texts.length, same.join()).toBeLessThan(0.1);
  });
});
