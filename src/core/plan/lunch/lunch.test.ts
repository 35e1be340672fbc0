import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { inventedDay } from '../../../../demo/plan/inventedDay.js';
import type { RiderKey, SpotId } from '../../ids.js';
import { millisecondsOf, type WallMs, wallMsOf } from '../../units.js';
import { type DayInputs, type DayProblem, greedyDay, type Stay, type Wish, worthOfPlan } from '../day/index.js';
import type { Timetable } from '../types.js';
import { AFTERNOON_AIM } from './aim.js';
import { askedAfternoon } from './askedAfternoon.js';
import { differencesOf, keptStaysOf, takenStays } from './differences.js';
import { expectedOf } from './expected.js';
import { bestOfFewMoves } from './fewMoves.js';
import { improve, judgeOfPlans } from './improve.js';
import { type AfternoonAsked, type OwedMorning, planAgain } from './index.js';
import { Yields } from './passesOf.js';
import type { OwedRider } from './types.js';

const [beacon, gannet, slipway] = ['beacon', 'gannet', 'slipway'] as unknown as readonly [SpotId, SpotId, SpotId];
const at = (clock: string): WallMs => wallMsOf(Date.parse(`2031-05-17T${clock}:00Z`));
const never = async () => false;

const rider = (key: string, group: string, good: readonly (readonly [SpotId, number])[], often = 1): OwedRider => ({
  rider: key as RiderKey,
  group,
  often,
  good: new Map(good),
});

const TIMETABLE: Timetable = {
  groups: [
    { key: 'N', name: 'Novice' },
    { key: 'F', name: 'Fast' },
  ],
  slipRule: 'clock-fixed',
  slots: ['N1', 'F1', 'N2', 'F2', 'N3', 'F3', 'N4', 'F4'].map((name, i) => {
    const start = wallMsOf(at('11:00') + (i + (i < 4 ? 0 : 3)) * 20 * 60_000);
    return { name, group: name.slice(0, 1), start, end: wallMsOf(start + 20 * 60_000) };
  }),
};
const LUNCH = at('12:20');

const INPUTS: Omit<DayInputs, 'demands' | 'underWay'> = {
  timetable: TIMETABLE,
  isHalved: true,
  spots: [beacon, gannet, slipway].map((id) => ({ id, name: String(id), side: 'left', hasShade: true })),
  wayBetween: () => ({ minutes: 8, isOnFoot: true }),
  lightAt: () => ({ share: 1, words: 'light front' }),
  lapOf: () => ({ ms: millisecondsOf(120_000), guessedFrom: null }),
  clients: [],
  carriedKg: 8,
  restAfterMinutes: null,
  photographers: 1,
  wishes: [],
};
/** All of N have Beacon and Gannet, all of F Beacon alone. */
const MORNING: OwedMorning = {
  owed: [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
    i < 4
      ? rider(`n${i}`, 'N', [
          [beacon, 4],
          [gannet, 4],
        ])
      : rider(`f${i}`, 'F', [[beacon, 4]]),
  ),
  yields: [],
  neverShown: new Map(),
  spread: 4,
};
const asked = (more: Partial<AfternoonAsked> = {}, wishes: readonly Wish[] = []): AfternoonAsked => ({
  inputs: { ...INPUTS, wishes },
  morning: MORNING,
  wish: { from: LUNCH, places: [null] },
  taken: null,
  ...more,
});
const solve = async (problem: DayProblem) => {
  const greedy = greedyDay(problem)!;
  return { kind: 'plan', ...greedy, bound: null, isProvenBest: false, from: 'greedy' } as const;
};
async function again(more: Partial<AfternoonAsked> = {}, wishes: readonly Wish[] = []) {
  const answer = await planAgain(asked(more, wishes), solve, never);
  if ('kind' in answer) throw new Error(answer.sentence);
  return answer;
}
const stay = (stretch: string, spot: SpotId | null): Stay => ({ photographer: 0, stretch, spot });

describe('what may be expected of a rider', () => {
  const aim = { spots: 2, goodFrames: 2 };
  const rates = (framesAPass: number, spread = 4) => ({ framesAPass, spread });

  it('PL1207: without another session it is what there is', () => {
    expect(expectedOf(rider('a', 'N', []), new Map(), rates(2), AFTERNOON_AIM)).toEqual({ enough: 0, worth: 0 });
    const all = rider('a', 'N', [
      [beacon, 4],
      [gannet, 3],
      [slipway, 1],
    ]);
    expect(expectedOf(all, new Map(), rates(2), AFTERNOON_AIM).enough).toBe(1);
    expect(expectedOf(all, new Map(), rates(2), AFTERNOON_AIM).worth).toBeCloseTo(1, 12);
  });

  it('PL1207: one spot missing is got by as much chance as there is of a pass: (1 + m/4)⁻⁴ is that of none', () => {
    const one = rider('a', 'N', [[beacon, 5]]);
    const { enough } = expectedOf(one, new Map([[gannet, 2]]), rates(1), aim);
    expect(enough).toBeCloseTo(1 - (1 + 2 / 4) ** -4, 12);
    expect(expectedOf(one, new Map([[beacon, 2]]), rates(1), aim).enough).toBe(0);
  });

  it('PL1207: two spots missing are both needed', () => {
    const { enough } = expectedOf(
      rider('a', 'N', []),
      new Map([
        [beacon, 1],
        [gannet, 3],
      ]),
      rates(1),
      aim,
    );
    expect(enough).toBeCloseTo((1 - (5 / 4) ** -4) * (1 - (7 / 4) ** -4), 12);
  });

  it('PL1207: more passes never make it less', () => {
    fc.assert(
      fc.property(fc.float({ min: 0, max: 4, noNaN: true }), fc.float({ min: 0, max: 4, noNaN: true }), (m, more) => {
        const by = (mean: number) =>
          expectedOf(rider('a', 'N', [[beacon, 1]]), new Map([[gannet, mean]]), rates(2), AFTERNOON_AIM).worth;
        expect(by(m + more)).toBeGreaterThanOrEqual(by(m) - 1e-9);
      }),
    );
  });
});

describe('passes that a stretch may be expected to give', () => {
  const half = { name: 'N3 first half', slot: 'N3', group: 'N', from: at('13:20'), to: at('13:30'), isSighting: false };
  const seen = { group: 'N', spot: gannet, framesAMinute: 0.5, seenAt: at('11:00'), framesAPass: 2 };
  const passes = (share: (spot: SpotId, when: WallMs) => number, wishes: readonly Wish[] = []) =>
    new Yields([{ ...seen, spot: null, framesAMinute: 0.25, seenAt: null }, seen], {
      lightAt: (spot, when) => ({ share: share(spot, when), words: '' }),
      wishes,
    });

  it('PL1207: they are the morning’s rate in eight minutes of ten, in the same light', () => {
    expect(passes(() => 1).passesIn(half, gannet)).toBeCloseTo((8 * 0.5) / 2, 12);
    expect(passes(() => 1).passesIn(half, slipway)).toBeCloseTo((8 * 0.25) / 2, 12);
  });

  it('PL1207: where the light gets worse they are fewer, by the root of its share; where nobody stood, against the light of the morning', () => {
    const fading = passes((_, when) => (when < at('12:00') ? 0.64 : 0.16));
    expect(fading.passesIn(half, gannet)).toBeCloseTo((8 * 0.5) / 2 / 2, 12);
    expect(fading.passesIn(half, slipway)).toBeCloseTo((8 * 0.25) / 2 / 2, 12);
  });

  it('PL1207: in the dark there is nothing to be had', () => {
    expect(passes((_, when) => (when < at('12:00') ? 1 : 0)).passesIn(half, gannet)).toBe(0);
  });

  it('PL1207: when rain is said fewer ride', () => {
    const rain: Wish = { kind: 'rain', from: at('13:00'), to: at('14:00') };
    expect(passes(() => 1, [rain]).passesIn(half, gannet)).toBeCloseTo((0.6 * 8 * 0.5) / 2, 12);
  });
});

describe('the afternoon planned again', () => {
  it('PL1208: goes where a group lacks, and plans only what is still to come', async () => {
    const { found } = await again();
    const spotsOf = (group: string) =>
      new Set(found.stays.flatMap(({ stretch, spot }) => (stretch.startsWith(group) && spot !== null ? [spot] : [])));
    expect(spotsOf('N')).toContain(slipway);
    expect(spotsOf('F')).toEqual(new Set([gannet, slipway]));
    expect(found.stays.every(({ stretch }) => /^[NF][34]/.test(stretch))).toBe(true);
  });

  it('PL1208: keeps pins, forbidden spots and closed ones', async () => {
    const wishes: readonly Wish[] = [
      { kind: 'pin', stretch: 'N3', spot: beacon },
      { kind: 'forbid', stretch: 'F4', spot: slipway },
      { kind: 'closed', spot: gannet, from: at('12:00'), to: at('18:00') },
    ];
    const { found } = await again({}, wishes);
    const at3 = found.stays.filter(({ stretch }) => stretch.startsWith('N3'));
    expect(at3.map(({ spot }) => spot)).toEqual([beacon, beacon]);
    expect(found.stays.some(({ stretch, spot }) => stretch.startsWith('F4') && spot === slipway)).toBe(false);
    expect(found.stays.some(({ spot }) => spot === gannet)).toBe(false);
  });

  it('PL1208: is never worth less than the plan kept, and changes nothing where that is the best', async () => {
    const first = await again();
    const second = await again({ taken: first.found.stays });
    expect(second.kept!.worth).toBeCloseTo(first.found.worth, 9);
    expect(second.found.worth).toBeGreaterThanOrEqual(second.kept!.worth! - 1e-9);
    expect(second.rows.every(({ kind }) => kind === 'same')).toBe(true);
  });

  it('PL1208: a plan bettered step by step keeps to ways and wishes and is never worth less: on fifty invented days', async () => {
    for (let seed = 1; seed <= 50; seed += 1) {
      const problem = inventedDay({
        seed,
        sessions: 5,
        halves: 2,
        spots: 3,
        groups: 2,
        wishes: seed % 3,
        hasLunch: false,
      });
      const begun = greedyDay(problem);
      if (begun === null) continue;
      const morning = { ...MORNING, owed: [rider('a', 'N', [[problem.spots[0]!, 3]]), rider('b', 'I', [])] };
      const judge = judgeOfPlans(problem, morning, INPUTS);
      const stays = await improve({ problem, judge, pause: never }, begun.stays);
      expect(worthOfPlan(problem, stays).kind).toBe('worth');
      expect(judge(stays)!).toBeGreaterThanOrEqual(judge(begun.stays)! - 1e-9);
    }
  });

  it('PL1208: of afternoons of few moves the best is found, wherever the search began, with a rest where one is due', async () => {
    const problemWith = (restAfterMinutes: number | null): DayProblem =>
      askedAfternoon({ ...INPUTS, restAfterMinutes }, MORNING, { from: LUNCH, places: [null] }).plain;
    const together = (problem: DayProblem) => (stays: readonly Stay[]) => {
      if (worthOfPlan(problem, stays).kind === 'broken') return null;
      const at = (name: RegExp, spot: SpotId) => stays.filter((one) => name.test(one.stretch) && one.spot === spot);
      // Slipway first and Beacon afterwards, and neither alone is worth anything.
      return at(/3/, slipway).length * at(/4/, beacon).length;
    };
    const best = (problem: DayProblem) =>
      bestOfFewMoves({ problem, judge: together(problem), pause: never }, [stay('N3 first half', gannet)]);
    const stays = await best(problemWith(null));
    expect(stays.map(({ stretch, spot }) => `${stretch} ${spot}`)).toEqual([
      'N3 first half slipway',
      'N3 second half slipway',
      'F3 first half slipway',
      'F3 second half slipway',
      'N4 second half beacon',
      'F4 first half beacon',
      'F4 second half beacon',
    ]);
    const tired = problemWith(40);
    expect(together(tired)(stays)).toBeNull();
    expect(together(tired)(await best(tired))).toBeGreaterThan(0);
  });

  it('PL1208: afternoons of few moves keep ways, rests and wishes, pins among them: on fifty invented days', async () => {
    let pinned = 0;
    for (let seed = 1; seed <= 50; seed += 1) {
      const shape = { sessions: 6, halves: 2, spots: 3, groups: 2, wishes: 3, hasLunch: false } as const;
      const problem = inventedDay({ seed, ...shape });
      const begun = greedyDay(problem);
      if (begun === null) continue;
      const worth = (stays: readonly Stay[]): number | null => {
        const judged = worthOfPlan(problem, stays);
        return judged.kind === 'broken' ? null : judged.worth;
      };
      const stays = await bestOfFewMoves({ problem, judge: worth, pause: never }, begun.stays);
      expect(worth(stays)!).toBeGreaterThanOrEqual(worth(begun.stays)! - 1e-9);
      if (problem.wishes.some(({ kind }) => kind === 'pin')) pinned += 1;
    }
    expect(pinned).toBeGreaterThan(0);
  });

  it('PL1208: told that it is enough, it answers with what it has', async () => {
    const answer = await planAgain(asked(), solve, async () => true);
    expect('found' in answer && answer.found.stays.length).toBeGreaterThan(0);
  });

  it('PL1208: wishes that cannot all be had are told', async () => {
    const sentence = 'These cannot all be had.';
    const answer = await planAgain(asked(), async () => ({ kind: 'impossible', colliding: [], sentence }), never);
    expect(answer).toMatchObject({ kind: 'impossible', sentence });
  });

  it('PL1208: riders whom no picture shows weigh as riders who are owed everything', () => {
    const worthOf = (unseen: number) =>
      askedAfternoon(INPUTS, { ...MORNING, neverShown: new Map([['N', unseen]]) }, { from: LUNCH, places: [null] }).owed
        .problem.worth[0]![0]!;
    expect(worthOf(4)).toBeGreaterThan(worthOf(0));
  });

  it('PL1209: tells of each group who has enough now and who may be expected to, by both plans', async () => {
    const { gains } = await again({ taken: [stay('N3', beacon), stay('N4', beacon)] });
    const n = gains.find(({ group }) => group === 'N')!;
    expect(n).toMatchObject({ riders: 4, now: 0, kept: 0 });
    expect(n.found).toBeGreaterThan(1);
    expect(n.found).toBeLessThanOrEqual(4);
  });
});

describe('both plans side by side', () => {
  const day = askedAfternoon(INPUTS, MORNING, { from: LUNCH, places: [null] });

  it('PL1210: halves that are alike are one row; each says what it is and why', () => {
    const kept = ['N3 first half', 'N3 second half', 'F3 first half'].map((name) => stay(name, beacon));
    const found = [
      stay('N3 first half', gannet),
      stay('N3 second half', gannet),
      stay('F3 first half', beacon),
      stay('F4 second half', slipway),
    ];
    const rows = differencesOf(day.owed, kept, found);
    expect(rows.map(({ stretch, kind, kept: was, found: is }) => [stretch, kind, was, is])).toEqual([
      ['N3', 'changed', beacon, gannet],
      ['F3 first half', 'same', beacon, beacon],
      ['F3 second half', 'same', null, null],
      ['N4', 'same', null, null],
      ['F4 first half', 'same', null, null],
      ['F4 second half', 'only-found', null, slipway],
    ]);
    expect(rows[0]!.reason).toMatch(/^N, the (?:only time|best of \d times) here/);
    expect(rows[2]!.reason).toBe('On the way, or resting.');
  });

  it('PL1210: a plan of whole sessions is halved, and what the timetable no longer has is told', () => {
    const taken = [stay('N1', beacon), stay('N3', gannet), stay('N9', gannet), stay('F3', 'gone' as SpotId)];
    const { stays, troubles } = keptStaysOf(day.plain, taken, (name) => name === 'N1');
    expect(stays).toEqual([stay('N3 first half', gannet), stay('N3 second half', gannet)]);
    expect(troubles).toEqual([
      'The plan holds N9, which the timetable no longer has.',
      'The plan stands at a spot that the circuit no longer has.',
    ]);
  });

  it('PL1211: what is taken is the day until then as it was planned, and the rest as found', () => {
    const before = [stay('N1', beacon), stay('N3', gannet), stay('F3 first half', gannet)];
    const found = [stay('N3 first half', slipway)];
    expect(takenStays(day.plain.stretches, before, found)).toEqual([
      stay('N1', beacon),
      stay('N3 first half', slipway),
    ]);
  });
});
