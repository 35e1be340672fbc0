import { describe, expect, test } from 'vitest';
import type { SpotId } from '../../ids.js';
import { wallMsOf } from '../../units.js';
import type { DayInputs } from './inputs.js';
import { problemOfDay } from './problemOfDay.js';
import type { Stay, Wish } from './types.js';
import { whyUnseen } from './whyUnseen.js';

const at = (hour: number, minute = 0) => wallMsOf(Date.UTC(2031, 4, 17, hour, minute));
const [bank, wall] = ['bank', 'wall'] as SpotId[] as [SpotId, SpotId];
const slot = (name: string, hour: number, minute: number) => ({
  name,
  group: name[0]!,
  start: at(hour, minute),
  end: wallMsOf(at(hour, minute) + 20 * 60_000),
});
const SLOTS = [slot('A1', 9, 0), slot('B1', 9, 20), slot('A2', 9, 40), slot('B2', 13, 0), slot('A3', 13, 20)];

function whyOf(stood: Readonly<Record<string, SpotId>>, more: Partial<DayInputs> = {}): Record<string, string> {
  const asked = problemOfDay({
    timetable: {
      groups: [
        { key: 'A', name: 'A' },
        { key: 'B', name: 'B' },
      ],
      slots: SLOTS,
      slipRule: 'clock-fixed',
    },
    isHalved: false,
    spots: [
      { id: bank, name: 'Bank', side: 'left', hasShade: false },
      { id: wall, name: 'Wall', side: 'both', hasShade: true },
    ],
    wayBetween: () => ({ minutes: 10, isOnFoot: true }),
    lightAt: () => ({ share: 0.8, words: 'front light' }),
    clients: [],
    demands: [],
    carriedKg: 0,
    restAfterMinutes: null,
    photographers: 1,
    wishes: [],
    underWay: null,
    ...more,
  });
  const stays = asked.problem.stretches.map(
    ({ name }): Stay => ({ photographer: 0, stretch: name, spot: stood[name] ?? null }),
  );
  return Object.fromEntries(whyUnseen(asked, stays));
}
const AFTERNOON = { B2: bank, A3: bank };

describe('why nobody stands at a session', () => {
  test('PL534: a way that costs more than the sessions bring is told with both', () => {
    const dear = whyOf(AFTERNOON, { carriedKg: 5000 });
    expect(Object.keys(dear)).toEqual(['A1', 'B1', 'A2']);
    expect(dear.A1).toMatch(/^at \w+ they would bring \d\.\d\d, and the way there and back costs \d+\.\d\d$/);
    const [brings, costs] = dear.A1!.match(/\d+\.\d\d/g)!.map(Number);
    expect(costs).toBeGreaterThan(brings!);
  });

  test('PL534: what would be worth it is not called too dear', () => {
    expect(whyOf(AFTERNOON).A1).toMatch(/more than the way costs, but the search ended before it$/);
  });

  test('PL534: a way between two spots takes the session between', () => {
    const far: DayInputs['wayBetween'] = (from, to) => ({
      minutes: from === 'paddock' || to === 'paddock' ? 5 : 20,
      isOnFoot: true,
    });
    expect(whyOf({ A1: bank, A2: wall, ...AFTERNOON }, { wayBetween: far })).toEqual({
      B1: 'the way from Bank to Wall takes them',
    });
  });

  test('PL534: rests, closed spots, permits and what counts no more are named', () => {
    const rest: Wish = { kind: 'rest', from: at(9), to: at(9, 20) };
    const closed = [bank, wall].map((spot): Wish => ({ kind: 'closed', spot, from: at(9, 20), to: at(9, 40) }));
    expect(whyOf({ A2: bank, ...AFTERNOON }, { wishes: [rest, ...closed] })).toEqual({
      A1: 'a rest is wished then',
      B1: 'every spot is closed then, or not wished',
    });
    const none = whyOf({}, { spots: [], leftOut: [{ id: bank, why: 'Bank, which wants a permit' }] });
    expect(none.A3).toBe('there is only Bank, which wants a permit');
    const worthless = whyOf(AFTERNOON, { lightAt: () => ({ share: 0, words: 'night' }) });
    expect(worthless.A2).toBe('nothing is to be had then that counts: no light, or weighed as nothing');
    expect(whyOf({ A1: bank, B1: bank, ...AFTERNOON }, { restAfterMinutes: 40 }).A2).toBe(
      'a rest falls there: no more than 40 min are gone without one',
    );
  });

  test('PL534: where somebody stands at every session there is nothing to tell', () => {
    expect(whyOf(Object.fromEntries(SLOTS.map(({ name }) => [name, bank])))).toEqual({});
  });
});
