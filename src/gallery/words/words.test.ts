import { describe, expect, it } from 'vitest';
import { liveryOf } from '../../core/arrange/index.js';
import type { Livery } from '../../core/arrange/types.js';
import { en } from './en.js';
import { LANGUAGES, type Language, tongueOf, wordsOf } from './index.js';

const KEYS = Object.keys(en) as readonly (keyof typeof en)[];
const holesOf = (text: string) => [...text.matchAll(/\{(\w+)\}/g)].map(([, hole]) => hole!).sort();
const formsOf = (language: Language, key: keyof typeof en): Readonly<Record<string, string>> => {
  const message = wordsOf[language].messages[key];
  return typeof message === 'string' ? { other: message } : message;
};

describe.each(LANGUAGES)('GA1: the messages in %s', (language) => {
  it('are all there, and none is another language’s by mistake', () => {
    expect(Object.keys(wordsOf[language].messages).sort()).toEqual([...KEYS].sort());
    for (const key of KEYS)
      for (const text of Object.values(formsOf(language, key))) expect(text.trim(), key).not.toBe('');
    const same = KEYS.filter((key) => formsOf(language, key).other === formsOf('en', key).other);
    // Words that two languages share: session, pages.
    expect(same.length).toBeLessThan(language === 'en' ? KEYS.length + 1 : 8);
  });

  it('have the same holes as in English', () => {
    let checked = 0;
    for (const key of KEYS) {
      const wanted = holesOf(formsOf('en', key).other!);
      for (const [form, text] of Object.entries(formsOf(language, key))) {
        checked += 1;
        // "One picture" and "two pictures" may be words without a figure.
        const mayLackCount = ['zero', 'one', 'two'].includes(form);
        const found = holesOf(text);
        expect(mayLackCount ? [...new Set([...found, 'n'])].sort() : found, `${key} ${form}`).toEqual(
          mayLackCount ? [...new Set([...wanted, 'n'])].sort() : wanted,
        );
      }
    }
    expect(checked).toBeGreaterThanOrEqual(KEYS.length);
  });

  it('have a form for every plural of the language that a gallery can count to', () => {
    const rules = new Intl.PluralRules(language);
    const needed = new Set(Array.from({ length: 10_000 }, (_, n) => rules.select(n)));
    for (const key of KEYS.filter((one) => typeof en[one] !== 'string'))
      expect(Object.keys(formsOf(language, key)), key).toEqual(expect.arrayContaining([...needed]));
  });

  it('name every colour, each otherwise', () => {
    const names = Object.values(wordsOf[language].colours);
    expect(new Set(names).size).toBe(18);
  });

  it('leave no hole open once filled', () => {
    const tongue = tongueOf(language, 'en');
    for (let n = 0; n < 120; n++) expect(tongue.say('yourDay', { n })).not.toMatch(/[{}]/);
    expect(tongue.html('takeDown', { address: '<a href="x">x</a>' })).toContain('<a href="x">x</a>');
    expect(tongue.html('findLead', { riders: '1', pictures: '2' })).not.toMatch(/[{}]/);
  });
});

const orange: Livery = { bike: ['orange', 'black'], isMulticoloured: false, leathers: 'white', helmet: 'red' };

it.each([
  ['en', 'orange / black, white leathers, red helmet'],
  ['de', 'orange / schwarz, Lederkombi weiß, Helm rot'],
  ['fr', 'orange / noir, cuir blanc, casque rouge'],
  ['it', 'arancione / nera, tuta bianca, casco rosso'],
  ['es', 'naranja / negra, mono blanco, casco rojo'],
  ['ar', 'برتقالية / سوداء، بدلة بيضاء، خوذة حمراء'],
] as const)('GA2: a livery is said in %s from its colours and parts', (language, said) => {
  expect(tongueOf(language, 'en').livery(orange)).toBe(said);
});

it('GA2: what is not known of a livery is left out, and said where nothing is', () => {
  const { livery } = tongueOf('de', 'en');
  expect(livery({ ...orange, leathers: null })).toBe('orange / schwarz, Helm rot');
  expect(livery({ ...orange, isMulticoloured: true, helmet: null, leathers: null })).toBe(
    'mehrfarbig (orange / schwarz)',
  );
  expect(livery({ bike: [], isMulticoloured: false, leathers: null, helmet: null })).toBe('Farben nicht bekannt');
});

it('GA2: the parts come from what was measured: a helmet is named only where one colour covers most of it', () => {
  const share = (name: 'red' | 'white' | 'black', of: number) => ({ name, share: of, lab: [50, 0, 0] as const });
  expect(liveryOf([share('black', 0.5)], [share('white', 0.4)], [share('red', 0.7)])).toEqual({
    bike: ['black'],
    isMulticoloured: false,
    leathers: 'white',
    helmet: 'red',
  });
  expect(liveryOf([share('black', 0.5)], [], [share('red', 0.4)])).toMatchObject({ leathers: null, helmet: null });
});

it('GA3: days are said as each language says them, with the same figures', () => {
  const saidIn = (language: Language) => tongueOf(language, 'en').day('2026-09-19', true);
  expect(LANGUAGES.map(saidIn)).toEqual([
    'Saturday 19 September 2026',
    'Samstag, 19. September 2026',
    'samedi 19 septembre 2026',
    'sabato 19 settembre 2026',
    'sábado, 19 de septiembre de 2026',
    'السبت، 19 سبتمبر 2026',
  ]);
});

it('GA4: a message is escaped, a name stands apart from the direction around it', () => {
  expect(tongueOf('ar', 'en').name('<N1>')).toBe('<bdi>&lt;N1&gt;</bdi>');
  expect(tongueOf('fr', 'en').name('<N1>')).toBe('&lt;N1&gt;');
  expect(tongueOf('en', 'en').html('thatsMe')).not.toMatch(/[<>]/);
});
