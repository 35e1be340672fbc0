import { describe, expect, it } from 'vitest';
import type { RiderKey } from '../../core/ids.js';
import type { ColourName } from '../../core/measure/types.js';
import { wallMsOf } from '../../core/units.js';
import type { FoundRiderView, RidersView } from '../../server/types.js';
import { aboutTrouble, clockMs, findRiders, NO_WISH, type Wish, withColour } from './findRiders.js';

const MINUTE_MS = 60_000;
/** Any day's midnight: the time of day alone is asked for. */
const MIDNIGHT = Date.parse('2026-09-19T00:00:00Z');

const rider = (
  key: string,
  bike: readonly ColourName[],
  { number = null, group = 'N', at = [] }: { number?: string | null; group?: string; at?: readonly number[] } = {},
): FoundRiderView => ({
  rider: {
    key: key as RiderKey,
    code: key,
    livery: { words: bike.join(' / '), bike: [], rider: [] },
    number: number === null ? null : { voice: 'printed', text: number },
    wheel: [],
    goodFrames: 3,
    frames: 9,
    isThin: false,
    face: { frameId: '1' as FoundRiderView['rider']['face']['frameId'], box: null, aspect: 1.5 },
  },
  group: { key: group, name: group, tint: 0 },
  bikeColours: bike,
  riderColours: ['white'],
  passedAt: at.map((minute) => wallMsOf(MIDNIGHT + minute * MINUTE_MS)),
});

const colour = (name: ColourName, ...neighbours: ColourName[]): RidersView['colours'][number] => ({
  name,
  css: '#000',
  neighbours,
  onBikes: 1,
  onRiders: 0,
});

const view: RidersView = {
  asOf: 1,
  riders: [
    rider('a', ['black', 'orange'], { number: '94', at: [610] }),
    rider('b', ['grey'], { number: '31', at: [605] }),
    rider('c', ['silver'], { at: [700] }),
    rider('d', ['orange'], { group: 'F', at: [630] }),
    rider('e', ['black'], { number: '941', at: [900] }),
  ],
  colours: [colour('grey', 'silver', 'black'), colour('black', 'grey', 'navy'), colour('orange', 'yellow', 'red')],
  unplaced: [],
};

const find = (wish: Partial<Wish>) => {
  const { fits, near } = findRiders(view, { ...NO_WISH, ...wish });
  return [fits.map(({ rider: { code } }) => code).join(''), near.map(({ rider: { code } }) => code).join('')];
};

describe('finding a rider', () => {
  it('DK131: a colour finds those who have it, most of it first, and offers those in the colours beside it', () => {
    expect(find({ colours: ['grey'] })).toEqual(['b', 'ace']);
    expect(find({ colours: ['orange'] })).toEqual(['da', '']);
  });

  it('DK131: of two colours both must fit, on the bike or on what is worn', () => {
    expect(find({ colours: ['black', 'orange'] })).toEqual(['a', '']);
    expect(find({ colours: ['orange', 'white'] })).toEqual(['da', '']);
  });

  it('DK138: a number finds itself, and offers one that holds it or is one figure off, but no unread one alone', () => {
    expect(find({ number: '94' })).toEqual(['a', 'e']);
    expect(find({ number: '34' })).toEqual(['', 'ab']);
    expect(find({ number: '55', colours: ['orange'] })).toEqual(['', 'd']);
  });

  it('DK138: about a time finds within ten minutes, nearest first, and offers within half an hour', () => {
    expect(find({ about: '10:06' })).toEqual(['ba', 'd']);
    expect(find({ about: '1006' })).toEqual(['ba', 'd']);
    expect(clockMs('25:00')).toBeNull();
    expect(aboutTrouble('25:99')).toBe('Expected a time of day like 10:10 but got “25:99”, so it is not asked for.');
    expect(['', ' ', '10:06', '1006', '9.30'].map(aboutTrouble)).toEqual([null, null, null, null, null]);
    expect(find({ about: '25:00' })[0]).toBe('abcde');
  });

  it('DK138: a group leaves out all others', () => {
    expect(find({ group: 'F' })).toEqual(['d', '']);
  });

  it('DK138: a fourth colour takes the place of the first, and a colour said twice is taken back', () => {
    const three = (['black', 'orange', 'white'] as const).reduce(withColour, NO_WISH);
    expect(withColour(three, 'red').colours).toEqual(['orange', 'white', 'red']);
    expect(withColour(three, 'orange').colours).toEqual(['black', 'white']);
  });
});
