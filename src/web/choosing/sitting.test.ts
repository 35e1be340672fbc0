import { describe, expect, it } from 'vitest';
import type { GestureId, RiderKey } from '../../core/ids.js';
import type { ChoosingView } from '../../server/choosing/types.js';
import {
  goneTo,
  leftOf,
  NOT_BEGUN,
  nextOf,
  passedOver,
  restAsProposed,
  type Sitting,
  seated,
  stepRider,
  turnsAgainst,
  turnsOf,
  wentOn,
  withOnly,
} from './sitting.js';

const key = (name: string) => name as RiderKey;
const gesture = (name: string) => name as GestureId;
const viewOf = (names: string, gone = ''): ChoosingView => ({
  asOf: 1,
  riders: [...names].map((name) => ({
    key: key(name),
    code: `N-${name}`,
    isBelowLeast: false,
    isGone: gone.includes(name),
  })),
  rules: { mostPerRider: 12, mostPerSpot: 4, mostInAll: null, leastPerRider: 3 },
  time: { kind: 'done' },
  keepers: 9,
  initials: 'RQ',
});
const sat = (names: string, gone = '', asked?: string): Sitting => seated(NOT_BEGUN, viewOf(names, gone), asked);
const orderOf = (sitting: Sitting) => sitting.riders.map((rider) => rider.key).join('');

describe('going through the riders', () => {
  it('CS2: begins with the first that was not gone through, or with the one the address names', () => {
    expect(sat('abc').at).toBe('a');
    expect(sat('abc', 'a').at).toBe('b');
    expect(sat('abc', 'a', 'c').at).toBe('c');
    expect(sat('abc', 'a', 'gone').at).toBe('b');
    expect(sat('abc', 'abc').at).toBe('over');
    expect(sat('').at).toBeNull();
  });

  it('CS2: holds the order as it was; who is new comes last, who is no more has no turn', () => {
    const later = seated(sat('abcd'), viewOf('dcebf'), undefined);
    expect(orderOf(later)).toBe('bcdef');
    expect(later.at).toBe('a');
  });

  it('CS2: who comes in after all others has a turn, and an address is gone to wherever one was', () => {
    const over = sat('ab', 'ab');
    expect(seated(over, viewOf('abc', 'ab'), undefined).at).toBe('c');
    expect(seated(over, viewOf('ab', 'ab'), undefined).at).toBe('over');
    expect(goneTo(over, 'b').at).toBe('b');
    expect(goneTo(over, 'z').at).toBe('over');
  });

  it('CS2: nobody is skipped and nobody met twice, whatever the order becomes on the way', () => {
    let now = sat('abcdef');
    const met: string[] = [];
    for (let i = 0; now.at !== 'over' && i < 20; i++) {
      met.push(now.at!);
      const turned = viewOf([...'abcdef'].sort(() => (i % 2 === 0 ? 1 : -1)).join(''), met.join(''));
      now = wentOn(seated(now, turned, undefined), gesture(`${i}`));
    }
    expect(met.join('')).toBe('abcdef');
  });

  it('CS2: who was passed over by an arrow has their turn in the end', () => {
    const at = stepRider(stepRider(sat('abc'), 1), 1);
    expect(at.at).toBe('c');
    const after = wentOn(at, gesture('1'));
    expect(after.at).toBe('a');
    expect(leftOf(after)).toEqual(['a', 'b']);
    expect(passedOver(at)).toEqual(['a', 'b']);
    expect(passedOver(after)).toEqual([]);
  });

  it('CS8: taking back the going on goes back to that rider; said again, they are gone again', () => {
    const all = new Set(['1', '2'].map(gesture));
    const on = wentOn(wentOn(sat('abc'), gesture('1')), gesture('2'));
    expect(on.at).toBe('c');
    const back = turnsAgainst(on, new Set([gesture('1')]));
    expect(back.at).toBe('b');
    expect(leftOf(back)).toEqual(['b', 'c']);
    const again = turnsAgainst(back, all);
    expect(again.at).toBe('c');
    expect(leftOf(again)).toEqual(['c']);
    expect(turnsAgainst(again, all)).toBe(again);
  });

  it('CS12: of so many minutes only those who are looked at have a turn, in that order; then all again', () => {
    const only = withOnly(sat('abcde', 'b'), { minutes: 20, look: ['d', 'b', 'a'].map(key), pace: 'usual' });
    expect(only.at).toBe('d');
    expect(turnsOf(only)).toEqual(['d', 'b', 'a']);
    expect(nextOf(only)).toBe('a');
    const over = wentOn(wentOn(only, gesture('1')), gesture('2'));
    expect(over.at).toBe('over');
    expect(leftOf({ ...over, only: null })).toEqual(['c', 'e']);
    expect(withOnly(over, null).at).toBe('c');
    expect(withOnly(only, null).at).toBe('d');
  });

  it('CS8, CS12: the rest as proposed, taken back, goes back to where one was and to the minutes; said again, all is over', () => {
    const minutes = { minutes: 20, look: ['d', 'b', 'e'].map(key), pace: 'usual' } as const;
    const only = wentOn(withOnly(sat('abcde'), minutes), gesture('1'));
    const rest = restAsProposed(only, ['a', 'b', 'c', 'e'].map(key), gesture('rest'));
    expect([rest.at, rest.only, leftOf(rest)]).toEqual(['over', null, []]);
    const back = turnsAgainst(rest, new Set([gesture('1')]));
    expect([back.at, back.only]).toEqual(['b', minutes]);
    expect(leftOf(back)).toEqual(['b', 'e']);
    const again = turnsAgainst(back, new Set(['1', 'rest'].map(gesture)));
    expect([again.at, again.only, leftOf(again)]).toEqual(['over', null, []]);
  });
});
