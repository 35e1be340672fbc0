import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { GestureId, RiderKey } from '../../core/ids.js';
import type { ChoosingView } from '../../server/choosing/types.js';
import { recalled, rememberedSitting, rememberSitting } from './remembered.js';
import { leftOf, NOT_BEGUN, nextOf, passedOver, type Sitting, seated, stepRider, withOnly } from './sitting.js';

const key = (name: string) => name as RiderKey;
const viewOf = (names: string): ChoosingView => ({
  asOf: 1,
  riders: [...names].map((name) => ({ key: key(name), code: `N-${name}`, isBelowLeast: false, isGone: false })),
  rules: { mostPerRider: 12, mostPerSpot: 4, mostInAll: null, leastPerRider: 3 },
  time: { kind: 'done' },
  keepers: 9,
  initials: 'RQ',
});

/** The page is closed and opened again: only what the browser kept is there. */
function openedAgain(before: Sitting, names: string, asked?: string): Sitting {
  rememberSitting(before);
  const view = viewOf(names);
  return seated(recalled(NOT_BEGUN, rememberedSitting()!, view, asked), view, asked);
}

describe('a page that is opened again', () => {
  const kept = new Map<string, string>();
  beforeEach(() => {
    vi.stubGlobal('sessionStorage', {
      getItem: (name: string) => kept.get(name) ?? null,
      setItem: (name: string, text: string) => kept.set(name, text),
    });
  });
  afterEach(() => {
    vi.unstubAllGlobals();
    kept.clear();
  });

  it('CS2: keeps the order and who was passed over, whatever order the day has by then', () => {
    const at = stepRider(stepRider(seated(NOT_BEGUN, viewOf('abcd'), undefined), 1), 1);
    for (const asked of ['c', undefined]) {
      const now = openedAgain(at, 'dcbae', asked);
      expect(now.at).toBe('c');
      expect(passedOver(now)).toEqual(['a', 'b']);
      expect(nextOf(now)).toBe('d');
      expect(leftOf(now)).toEqual(['a', 'b', 'c', 'd', 'e']);
    }
  });

  it('CS12: keeps the minutes', () => {
    const minutes = { minutes: 20, look: ['d', 'b'].map(key), pace: 'usual' } as const;
    const now = openedAgain(withOnly(seated(NOT_BEGUN, viewOf('abcd'), undefined), minutes), 'abcd');
    expect([now.at, now.only, leftOf(now)]).toEqual(['d', minutes, ['d', 'b']]);
  });

  it('CS2: goes where an address says before where one was, and past who is no more', () => {
    const at = stepRider(seated(NOT_BEGUN, viewOf('abc'), undefined), 1);
    expect(openedAgain(at, 'abc', 'c').at).toBe('c');
    expect(openedAgain(at, 'ac').at).toBe('a');
    const over: Sitting = { ...at, at: 'over', gone: [{ key: key('a'), gesture: '1' as GestureId }] };
    expect(openedAgain(over, 'abc').at).toBe('a');
  });

  it('CS2: takes nothing from what another wrote there, or of another meeting', () => {
    for (const text of ['', '{', '7', '{"order":"abc"}', '{"order":["a"],"only":{"minutes":20}}']) {
      kept.set('tyrewall.choosing', text);
      expect(rememberedSitting()).toBeNull();
    }
    expect(openedAgain(seated(NOT_BEGUN, viewOf('wxyz'), undefined), 'abc').at).toBe('a');
  });
});
