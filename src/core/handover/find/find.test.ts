import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findSeason, plainScan } from '../../../../test/builders/findSeason.js';
import type { ColourName } from '../../measure/types.js';
import { hiddenKey, layIndex, readTop, search, slugKey, TOP, wordsOf } from './index.js';
import { fnv1a64 } from './keys.js';
import { readRuns, runsOf, runsText } from './runs.js';
import type { Criterion, FindEntry, FindRider } from './types.js';

const MEETING = 'a1'.repeat(16);

/** As a phone asks: only what `search` reads is counted. */
function asking(riders: readonly FindRider[]) {
  const files = layIndex(riders, MEETING);
  const top = readTop(files.get(TOP)!);
  const read: string[] = [];
  const ask = (criteria: readonly Criterion[]) =>
    search(top, criteria, async (file) => {
      const text = files.get(`${file}.txt`)!;
      read.push(text);
      return text;
    });
  return { files, top, read, ask };
}

const colour = fc.constantFrom<ColourName>(
  'black',
  'white',
  'red',
  'orange',
  'yellow',
  'blue',
  'fluorescent red',
  'brown',
);
const entry: fc.Arbitrary<FindEntry> = fc.record({
  session: fc.option(fc.nat(3)),
  group: fc.option(fc.constantFrom('N', 'I', 'Été fast')),
  spot: fc.option(fc.integer({ min: 1, max: 3 })),
  quarter: fc.option(fc.integer({ min: 36, max: 42 })),
});
const rider: fc.Arbitrary<FindRider> = fc.record({
  id: fc.stringMatching(/^[0-9a-f]{32}$/),
  bike: fc.uniqueArray(colour, { maxLength: 2 }),
  leathers: fc.option(colour),
  number: fc.option(fc.record({ text: fc.constantFrom('7', '71', '12A', '07', '-'), isGuess: fc.boolean() })),
  class: fc.option(fc.constantFrom('Twins', 'Over 40')),
  words: fc.constant([]),
  card: fc.constant(null),
  entries: fc.array(entry, { maxLength: 6 }),
});
const keysOf: Readonly<Record<string, readonly string[]>> = {
  session: ['0', '1', '2', '9'],
  group: ['n', 'i', '%C3%A9t%C3%A9%20fast'],
  spot: ['1', '2'],
  time: ['35', '36', '38', '42', '43'],
  bike: ['black', 'orange', 'pink', 'fluorescent-red', 'navy'],
  leathers: ['white', 'red', 'silver'],
  number: ['7', '12a', '0', ' '],
  class: ['twins'],
};
const criteria: fc.Arbitrary<readonly Criterion[]> = fc
  .subarray(Object.keys(keysOf), { minLength: 1 })
  .chain((facets) =>
    fc.tuple(
      ...facets.map((facet) =>
        fc.record({ facet: fc.constant(facet as Criterion['facet']), keys: fc.subarray([...keysOf[facet]!]) }),
      ),
    ),
  );

describe('finding', () => {
  it('FN1: finds what a plain scan over every picture finds, in the same order, for the same reasons', async () => {
    let found = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(rider, { maxLength: 12 }), criteria, async (riders, asked) => {
        const got = await asking(riders).ask(asked);
        expect(got).toEqual(plainScan(riders, asked));
        found += got.length;
      }),
      { numRuns: 600 },
    );
    expect(found).toBeGreaterThan(200);
  });

  it('FN1: the same over thousands of entries, where lists go over many files', async () => {
    const riders = findSeason(20_000);
    const { ask, files } = asking(riders);
    expect(files.size).toBeGreaterThan(20);
    for (const asked of SEASON_QUESTIONS) {
      const got = await ask(asked);
      expect(got.length).toBeGreaterThan(0);
      expect(got).toEqual(plainScan(riders, asked));
    }
  });

  it('FN2: everything asked has to be met by one and the same picture', async () => {
    const at = (session: number, spot: number) => ({ session, spot, group: null, quarter: null });
    const { ask } = asking([plain({ entries: [at(1, 1), at(2, 2)] }), plain({ entries: [at(1, 2)] })]);
    const found = await ask([
      { facet: 'session', keys: ['1'] },
      { facet: 'spot', keys: ['2'] },
    ]);
    expect(found.map((one) => one.rider)).toEqual([1]);
  });

  it('FN3: what is met exactly stands before what was read, and that before what is near', async () => {
    const { ask } = asking([
      plain({ bike: ['red'], number: { text: '271', isGuess: false } }),
      plain({ bike: ['orange'], number: { text: '27', isGuess: true } }),
      plain({ bike: ['orange'], number: { text: '27', isGuess: false } }),
      plain({ bike: ['orange', 'red'] }),
      plain({ bike: ['blue'] }),
    ]);
    const numbers = await ask([{ facet: 'number', keys: ['27'] }]);
    expect(numbers.map((one) => [one.rider, one.why[0]!.is])).toEqual([
      [2, 'exact'],
      [1, 'guess'],
      [0, 'near'],
    ]);
    const both = await ask([{ facet: 'bike', keys: ['orange', 'red'] }]);
    expect(both.map((one) => one.rider)).toEqual([3, 0, 1, 2]);
    const orange = await ask([{ facet: 'bike', keys: ['orange'] }]);
    expect(orange.map((one) => [one.rider, one.why[0]])).toEqual([
      [1, { facet: 'bike', key: 'orange', is: 'exact' }],
      [2, { facet: 'bike', key: 'orange', is: 'exact' }],
      [3, { facet: 'bike', key: 'orange', is: 'exact' }],
      [0, { facet: 'bike', key: 'red', is: 'near' }],
    ]);
  });

  it('FN4: a question reads only the files it needs', async () => {
    const { ask, read, files } = asking(findSeason(100_000));
    const all = [...files.values()].reduce((sum, text) => sum + text.length, 0);
    await ask([
      { facet: 'session', keys: ['104'] },
      { facet: 'bike', keys: ['orange'] },
    ]);
    const bytes = read.reduce((sum, text) => sum + text.length, 0) + files.get(TOP)!.length;
    expect(read.length).toBeLessThanOrEqual(4);
    expect(bytes).toBeLessThan(all / 5);
    // Slow 4G, 1.6 Mbit/s: less than a second of it, uncompressed.
    expect(bytes).toBeLessThan(100_000);
  });

  it('FN5: a name is found by its words, without accents, and can be read in no file', async () => {
    const riders = [
      plain({ words: wordsOf('Zoë Exemple-Muster') }),
      plain({ words: wordsOf('Åsa Muster') }),
      plain({ words: [] }),
    ];
    const { ask, files, top } = asking(riders);
    const named = (name: string) =>
      ask(wordsOf(name).map((word) => ({ facet: 'word', keys: [hiddenKey(top.meeting, word)] })));
    expect((await named('muster')).map((one) => one.rider)).toEqual([0, 1]);
    expect((await named('ZOE muster')).map((one) => one.rider)).toEqual([0]);
    expect(await named('must')).toEqual([]);
    const texts = [...files.values()].join('\n').toLowerCase();
    for (const word of ['zoe', 'exemple', 'muster', 'asa']) expect(texts).not.toContain(word);
  });

  it('FN5: the hash of a word is FNV-1a of 64 bits', () => {
    // RFC 9923, section 8.4 (test vectors): of nothing, "a" and "foobar", without the NUL at the end.
    expect(['', 'a', 'foobar'].map(fnv1a64)).toEqual(['cbf29ce484222325', 'af63dc4c8601ec8c', '85944171f73967e8']);
  });

  it('runs of entries come back as they were', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(500), { minLength: 1 }), (some) => {
        const sorted = some.sort((a, b) => a - b);
        const back = readRuns(runsText(runsOf(sorted))).flatMap(([from, length]) =>
          Array.from({ length }, (_, i) => from + i),
        );
        expect(back).toEqual(sorted);
      }),
    );
  });

  it('says what is wrong with a list that is none', () => {
    expect(() => readTop('<!doctype html>')).toThrow(/its list begins with "<!doctype html>". Make the gallery again/);
  });
});

const SEASON_QUESTIONS: readonly (readonly Criterion[])[] = [
  [
    { facet: 'session', keys: ['104', '105'] },
    { facet: 'bike', keys: [slugKey('orange')] },
  ],
  [
    { facet: 'group', keys: ['f'] },
    { facet: 'leathers', keys: ['white'] },
    { facet: 'time', keys: ['40', '41'] },
  ],
  [{ facet: 'number', keys: ['12'] }],
  [
    { facet: 'spot', keys: ['3'] },
    { facet: 'bike', keys: ['black', 'red'] },
    { facet: 'class', keys: ['twins'] },
  ],
];

const plain = (about: Partial<FindRider>): FindRider => ({
  id: '0'.repeat(32),
  bike: [],
  leathers: null,
  number: null,
  class: null,
  words: [],
  card: null,
  entries: [{ session: null, group: null, spot: null, quarter: null }],
  ...about,
});
