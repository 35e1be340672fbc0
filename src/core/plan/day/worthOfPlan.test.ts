import { describe, expect, test } from 'vitest';
import type { SpotId } from '../../ids.js';
import { wallMsOf } from '../../units.js';
import type { DayProblem, Stay } from './types.js';
import { worthOfPlan } from './worthOfPlan.js';

const at = (minute: number) => wallMsOf(minute * 60_000);

/** Four sessions of 20 min of two groups in turn, 10 min between; a van break after the second. */
const day: DayProblem = {
  stretches: ['N1', 'F1', 'N2', 'F2'].map((name, i) => ({
    name,
    slot: name,
    group: name[0]!,
    from: at(i * 30 + (i > 1 ? 40 : 0)),
    to: at(i * 30 + 20 + (i > 1 ? 40 : 0)),
    isSighting: false,
  })),
  spots: ['bank', 'wall'] as SpotId[],
  spotNames: ['Bank', 'Wall'],
  ways: [
    [
      { minutes: 0, cost: 0 },
      { minutes: 12, cost: 0.1 },
    ],
    [
      { minutes: 9, cost: 0.07 },
      { minutes: 0, cost: 0 },
    ],
  ],
  vanWays: [
    { minutes: 5, cost: 0.04 },
    { minutes: 6, cost: 0.05 },
  ],
  worth: [
    [0.8, 0.5],
    [0.6, 0.9],
    [1, 0.4],
    [0.7, 0.2],
  ],
  besides: [
    [0.3, 0.3],
    [0, 0],
    [0, 0],
    [0, -0.05],
  ],
  returns: [1, 0.5],
  bothSides: { N: 0.6, F: 0.6 },
  sides: ['left', 'right'],
  vanBreaks: [{ from: at(50), to: at(100), leastMinutes: 30 }],
  rest: null,
  photographers: 1,
  start: null,
  had: [],
  wishes: [],
};

const staysAt = (spots: readonly (string | null)[], photographer = 0): Stay[] =>
  spots.map((spot, i) => ({ photographer, stretch: day.stretches[i]!.name, spot: spot as SpotId | null }));
const worthOf = (problem: DayProblem, stays: readonly Stay[]) => {
  const judged = worthOfPlan(problem, stays);
  return judged.kind === 'worth' ? judged.worth : judged.sentences;
};

describe('what a plan is worth, counted by hand', () => {
  test('PL502: the better of two times at a spot counts in full, the other half; the palette each time', () => {
    // N: 1 + 0.5 × 0.8, F: 0.7 + 0.5 × 0.6, palette 0.3; there and home 0.04 each, to the van and back 0.08.
    expect(worthOf(day, staysAt(['bank', 'bank', 'bank', 'bank']))).toBeCloseTo(1.4 + 1 + 0.3 - 0.16, 9);
  });

  test('PL503: a group seen from both sides counts once more', () => {
    // N at the bank in the morning and the wall after lunch: both sides.
    expect(worthOf(day, staysAt(['bank', null, 'wall', null]))).toBeCloseTo(
      0.8 + 0.3 + 0.4 + 0.6 - 0.04 - 0.09 - 0.05,
      9,
    );
  });

  test('PL504: two photographers at one spot see what one would', () => {
    const two = { ...day, photographers: 2 };
    const one = worthOf(day, staysAt(['bank', null, null, null])) as number;
    const both = worthOf(two, [...staysAt(['bank', null, null, null]), ...staysAt(['bank', null, null, null], 1)]);
    expect(both).toBeCloseTo(one - 0.08, 9);
  });

  test('PL501: a way that takes longer than the pause breaks the plan, in a sentence', () => {
    expect(worthOf(day, staysAt(['bank', 'wall', null, null]))).toEqual([
      'From Bank in N1 to Wall in F1 there is no way in the time; go later or leave one out.',
    ]);
    expect(worthOf(day, staysAt(['wall', 'bank', null, null]))).toBeTypeOf('number');
  });

  test('PL505: the cards come to the van at lunch, though the spot is worth more', () => {
    const short = { ...day, vanBreaks: [{ from: at(50), to: at(100), leastMinutes: 41 }] };
    expect(worthOf(short, staysAt(['bank', 'bank', 'bank', 'bank']))).toEqual([
      expect.stringContaining('no way in the time'),
    ]);
  });

  test('PL506: without a rest in time the plan is broken; a lunch at the van is one', () => {
    const tired = { ...day, rest: { afterMinutes: 45, leastMinutes: 15 } };
    expect(worthOf(tired, staysAt(['bank', 'bank', null, null]))).toEqual([
      'From N1 to F1 are 50 min without a rest; at most 45 are wanted.',
    ]);
    expect(worthOf(tired, staysAt(['bank', null, 'bank', null]))).toBeTypeOf('number');
  });

  test('PL507: wishes are kept: pinned, forbidden, closed, rested', () => {
    const wishing = (wish: DayProblem['wishes'][number]) => ({ ...day, wishes: [wish] });
    const stays = staysAt(['bank', 'bank', null, null]);
    const bank = 'bank' as SpotId;
    expect(worthOf(wishing({ kind: 'pin', stretch: 'F2', spot: bank }), stays)).toEqual([
      'Nobody is at Bank in F2, as was wished.',
    ]);
    expect(worthOf(wishing({ kind: 'forbid', stretch: 'F1', spot: bank }), stays)).toEqual([
      'Nobody may be at Bank in F1.',
    ]);
    expect(worthOf(wishing({ kind: 'closed', spot: bank, from: at(10), to: at(15) }), stays)).toEqual([
      'Nobody may be at Bank in N1.',
    ]);
    expect(worthOf(wishing({ kind: 'rest', from: at(30), to: at(35) }), stays)).toEqual(['A rest was wished in F1.']);
  });

  test('what was seen before the plan begins takes the first places', () => {
    const later = { ...day, had: [{ group: 'N', spot: 'bank' as SpotId, worth: 0.9 }], vanBreaks: [] };
    // 0.8 is now the second best: half of it.
    expect(worthOf(later, staysAt(['bank', null, null, null]))).toBeCloseTo(0.9 + 0.4 + 0.3 - 0.08, 9);
  });

  test('a stay that the day does not have is told, not counted', () => {
    expect(() => worthOf(day, [{ photographer: 1, stretch: 'N1', spot: 'bank' as SpotId }])).toThrow(
      'Expected a stay of this day but got photographer 1 at bank in N1.',
    );
  });
});
