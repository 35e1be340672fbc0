import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { SpotId } from '../../ids.js';
import { wallMsOf } from '../../units.js';
import { legBetween } from './legs.js';
import type { DayProblem } from './types.js';

const minute = (value: number) => wallMsOf(value * 60_000);
const way = (minutes: number | null) => (minutes === null ? null : { minutes, cost: minutes });

interface Given {
  readonly direct: number | null;
  readonly toVan: readonly (number | null)[];
  readonly lunch: { readonly from: number; readonly long: number; readonly least: number } | null;
  readonly rest: { readonly from: number; readonly long: number } | null;
}

const dayWith = ({ direct, toVan, lunch, rest }: Given): DayProblem => ({
  stretches: [],
  spots: ['a', 'b'] as SpotId[],
  spotNames: ['A', 'B'],
  ways: [
    [way(0), way(direct)],
    [way(direct), way(0)],
  ],
  vanWays: toVan.map(way),
  worth: [],
  besides: [],
  returns: [1],
  bothSides: {},
  sides: ['left', 'right'],
  vanBreaks: lunch
    ? [{ from: minute(lunch.from), to: minute(lunch.from + lunch.long), leastMinutes: lunch.least }]
    : [],
  rest: null,
  photographers: 1,
  start: null,
  had: [],
  wishes: rest ? [{ kind: 'rest', from: minute(rest.from), to: minute(rest.from + rest.long) }] : [],
});

/** Every way of spending the minutes one by one: whether the other spot can be reached, told without any reckoning. */
function canBeWalked({ direct, toVan, lunch, rest }: Given, begin: number, end: number): boolean {
  const isRest = (at: number) => rest !== null && at >= rest.from && at < rest.from + rest.long;
  const isLunch = (at: number) => lunch !== null && at >= lunch.from && at < lunch.from + lunch.long;
  const needs = lunch !== null && lunch.from + lunch.long > begin && lunch.from < end ? lunch.least : 0;
  const minutes = [
    { from: 'a', to: 'b', long: direct },
    { from: 'a', to: 'van', long: toVan[0]! },
    { from: 'van', to: 'b', long: toVan[1]! },
  ];
  // Ways are the shortest there are: by the van goes only who has to be there.
  const open = minutes.filter(({ from, to }) => (from === 'van' || to === 'van') === needs > 0);
  // Place and minutes at the van in one piece; lunch is done once they suffice.
  let states = new Map<number, Set<string>>([[begin, new Set(['a 0 false'])]]);
  const put = (at: number, state: string) => states.set(at, (states.get(at) ?? new Set()).add(state));
  if (needs === 0) states = new Map([[begin, new Set(['a 0 true'])]]);
  for (let at = begin; at <= end; at += 1)
    for (const state of states.get(at) ?? []) {
      const [place = '', inVan = '', done = ''] = state.split(' ');
      if (at === end) continue;
      const spent = place === 'van' && isLunch(at) ? Number(inVan) + 1 : 0;
      put(at + 1, `${place} ${spent} ${done === 'true' || (needs > 0 && spent >= needs)}`);
      for (const { from, to, long } of open) {
        if (from !== place || long === null || at + long > end) continue;
        if (Array.from({ length: long }, (_, i) => at + i).some(isRest)) continue;
        put(at + long, `${to} 0 ${done}`);
      }
    }
  return [...(states.get(end) ?? [])].some((state) => state.startsWith('b ') && state.endsWith('true'));
}

const minutesOrNone = fc.oneof(
  { weight: 5, arbitrary: fc.integer({ min: 1, max: 8 }) },
  { weight: 1, arbitrary: fc.constant(null) },
);

describe('the way between two stands', () => {
  test('PL501: a leg is possible exactly where trying every minute finds one', () => {
    let possible = 0;
    fc.assert(
      fc.property(
        fc.record({
          direct: minutesOrNone,
          toVan: fc.tuple(minutesOrNone, minutesOrNone),
          lunch: fc.option(
            fc.record({
              from: fc.integer({ min: 0, max: 15 }),
              long: fc.integer({ min: 1, max: 12 }),
              least: fc.integer({ min: 1, max: 8 }),
            }),
          ),
          rest: fc.option(fc.record({ from: fc.integer({ min: 0, max: 20 }), long: fc.integer({ min: 1, max: 6 }) })),
        }),
        fc.integer({ min: 2, max: 30 }),
        (given, end) => {
          const leg = legBetween(dayWith(given), { place: 0, atMinute: 0 }, { place: 1, atMinute: end });
          expect(leg !== null).toBe(canBeWalked(given, 0, end));
          if (leg !== null) possible += 1;
        },
      ),
      { numRuns: 400, seed: 5 },
    );
    expect(possible).toBeGreaterThan(80);
  });

  test('PL501: no way while the track is hot is no way, however long one waits', () => {
    const day = dayWith({ direct: null, toVan: [3, 3], lunch: null, rest: null });
    expect(legBetween(day, { place: 0, atMinute: 0 }, { place: 1, atMinute: 600 })).toBeNull();
  });

  test('before the first session and after the last the track is cold', () => {
    const day = dayWith({ direct: null, toVan: [null, null], lunch: null, rest: null });
    const before = { place: 'van', atMinute: Number.NEGATIVE_INFINITY } as const;
    expect(legBetween(day, before, { place: 1, atMinute: 0 })).toMatchObject({ cost: 0 });
  });
});
