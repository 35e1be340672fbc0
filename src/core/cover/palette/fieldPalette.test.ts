import { describe, expect, it } from 'vitest';
import type { Arrangement, Rider } from '../../arrange/types.js';
import type { ColourName } from '../../measure/types.js';
import { fieldPalette } from './fieldPalette.js';

const rider = (key: string, bike: ColourName | null, more: Partial<Rider> = {}) =>
  ({
    key,
    code: `1-${key}`,
    number: null,
    livery: `${bike}`,
    bikeColours: bike === null ? [] : [{ name: bike, share: 0.8, lab: [0, 0, 0] }],
    riderColours: [],
    ...more,
  }) as unknown as Rider;

const day = (riders: readonly Rider[], passes: readonly { session: number; rider: string }[]) =>
  ({
    sessions: [
      { index: 0, name: 'N1', group: 'novices' },
      { index: 1, name: 'N2', group: 'novices' },
      { index: 2, name: '?', group: null },
    ],
    riders,
    passes,
  }) as unknown as Arrangement;

const out = (...keys: readonly string[]) => keys.map((key) => ({ session: 0, rider: key }));

describe("the field's palette", () => {
  it('PL821: of each group its first session with pictures is told, by the largest colour on each bike, with its range', () => {
    const riders = [rider('a', 'black'), rider('b', 'black'), rider('c', 'red'), rider('d', 'blue')];
    const [novices, ...others] = fieldPalette(day(riders, [...out('a', 'b', 'c'), { session: 1, rider: 'd' }]));
    expect(others).toEqual([]);
    expect(novices).toMatchObject({ group: 'novices', riders: 3, sessions: ['N1'] });
    expect(novices!.bikes.map(({ colour, riders: who }) => [colour, who])).toEqual([
      ['black', ['a', 'b']],
      ['red', ['c']],
    ]);
    expect(novices!.sentences[0]).toBe('Bikes: black 2 of 3 (21–94 %), red 1 of 3 (6–79 %).');
  });

  it('PL822: who has no colour measured is not counted as any, and nothing measured is said', () => {
    const [novices] = fieldPalette(day([rider('a', 'black'), rider('b', null)], out('a', 'b')));
    expect(novices!.bikes).toHaveLength(1);
    expect(novices!.bikes[0]!.share.share).toBe(1);
    expect(novices!.sentences[1]).toBe('Leathers: no colour is measured yet.');
  });

  it('PL823: riders that look alike are told together, chains included, only of those out', () => {
    const riders = [
      rider('a', 'black', { alike: ['b', 'z'] as never }),
      rider('b', 'black', { alike: ['a', 'c'] as never, number: '7' }),
      rider('c', 'black', { alike: ['b'] as never }),
      rider('d', 'red'),
      rider('z', 'black', { alike: ['a'] as never }),
    ];
    const [novices] = fieldPalette(day(riders, out('a', 'b', 'c', 'd')));
    expect(novices!.alike.map(({ riders: who }) => who)).toEqual([['a', 'b', 'c']]);
    expect(novices!.sentences.at(-1)).toContain('Hard to tell apart: 1-a, 1-b [7], 1-c (black).');
  });

  it('PL825: whom the same words fit is told with number and helmet, where the pictures tell them apart', () => {
    const helmet = [{ name: 'yellow', share: 0.9, lab: [0, 0, 0] }] as never;
    const riders = [
      rider('a', 'black'),
      rider('b', 'black', { number: '7', helmetColours: helmet }),
      rider('c', 'red'),
      rider('d', 'white', { alike: ['e'] as never }),
      rider('e', 'white', { alike: ['d'] as never }),
    ];
    const [novices] = fieldPalette(day(riders, out('a', 'b', 'c', 'd', 'e')));
    expect(novices!.sameWords.map(({ riders: who }) => who)).toEqual([['a', 'b']]);
    expect(novices!.sentences.at(-1)).toBe('The words black fit more than one: 1-a, 1-b [7] (yellow helmet).');
  });

  it('PL824: where no two are alike that is said; instructors are left out', () => {
    const [novices] = fieldPalette(
      day([rider('a', 'black'), rider('b', 'red', { isInstructor: true })], out('a', 'b')),
    );
    expect(novices!.riders).toBe(1);
    expect(novices!.sentences.at(-1)).toBe('No two riders look so alike that their pictures could not be told apart.');
  });
});
