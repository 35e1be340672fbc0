import { describe, expect, test } from 'vitest';
import type { SpotId } from '../../ids.js';
import { millisecondsOf, wallMsOf } from '../../units.js';
import type { DayInputs } from './inputs.js';
import { problemOfDay } from './problemOfDay.js';
import { stretchesByName } from './stretchesOfDay.js';
import { type DayProblem, type FoundPlan, type Stay, toldGap } from './types.js';
import { dayWithout, minutesLost, nextBest, whyStays } from './whyStays.js';
import { seenBy, worthOfPlan } from './worthOfPlan.js';
import { DAY_WORTH } from './worthOfStretch.js';

const at = (hour: number, minute = 0) => wallMsOf(Date.UTC(2026, 8, 19, hour, minute));
const bank = 'bank' as SpotId;
const wall = 'wall' as SpotId;

const slot = (name: string, hour: number, minute: number, isSighting = false) => ({
  name,
  group: name[0]!,
  start: at(hour, minute),
  end: wallMsOf(at(hour, minute) + 20 * 60_000),
  isSighting,
});

const inputs: DayInputs = {
  timetable: {
    groups: [
      { key: 'N', name: 'Novice' },
      { key: 'F', name: 'Fast' },
    ],
    slots: [slot('F2', 13, 20), slot('N1', 9, 0, true), slot('F1', 9, 20), slot('N2', 13, 0)],
    slipRule: 'clock-fixed',
  },
  isHalved: false,
  spots: [
    { id: bank, name: 'Bank', side: 'left', hasShade: false },
    { id: wall, name: 'Wall', side: 'both', hasShade: true },
  ],
  wayBetween: (from, to) => (from === 'paddock' && to === wall ? null : { minutes: 10, isOnFoot: true }),
  lightAt: (spot) => ({ share: spot === bank ? 0.8 : 0.5, words: spot === bank ? 'front light' : 'back light' }),
  lapOf: (group) => (group === 'N' ? { ms: millisecondsOf(120_000), guessedFrom: null } : null),
  clients: [],
  demands: [],
  carriedKg: 0,
  restAfterMinutes: null,
  photographers: 1,
  wishes: [],
  underWay: null,
};
const worthOf = (given: DayInputs, stretch: string, spot: SpotId) => {
  const { problem } = problemOfDay(given);
  const i = problem.stretches.findIndex(({ name }) => name === stretch);
  return problem.worth[i]![problem.spots.indexOf(spot)]!;
};

const judgedWorth = (problem: DayProblem, stays: readonly Stay[]): number => {
  const judged = worthOfPlan(problem, stays);
  if (judged.kind !== 'worth') throw new Error('Expected a plan that can be walked.');
  return judged.worth;
};

describe('a day put to the solver', () => {
  test('PL520: sessions in order of time, in halves where asked; a long gap is a break at the van', () => {
    const { problem } = problemOfDay({ ...inputs, isHalved: true });
    expect(problem.stretches.map(({ name }) => name).slice(0, 3)).toEqual([
      'N1 first half',
      'N1 second half',
      'F1 first half',
    ]);
    expect(problem.stretches[0]).toMatchObject({
      from: at(9),
      to: at(9, 10),
      slot: 'N1',
      group: 'N',
      isSighting: true,
    });
    expect(problem.vanBreaks).toEqual([{ from: at(9, 40), to: at(13), leastMinutes: 30 }]);
  });

  test('PL520: an open pit lane or a long race is taken in half hours, which keep their names when its end moves', () => {
    const open = { ...slot('O1', 9, 0), end: at(12, 15), isOpenPitLane: true };
    const named = (end = open.end) =>
      problemOfDay({ ...inputs, isHalved: true, timetable: { ...inputs.timetable, slots: [{ ...open, end }] } }).problem
        .stretches;
    expect(named().map(({ name, from, to }) => [name, (to - from) / 60_000])).toEqual([
      ...[1, 2, 3, 4, 5, 6].map((part) => [`O1 part ${part}`, 30]),
      ['O1 part 7', 15],
    ]);
    expect(named(at(10, 0)).map(({ name }) => name)).toEqual(['O1 part 1', 'O1 part 2']);
    // A plan taken before it was cut short is still found by its names, and one in halves too.
    const names = stretchesByName([{ ...open, end: at(9, 40) }]).map(({ name }) => name);
    expect(names).toEqual(['O1', 'O1 first half', 'O1 second half', 'O1 part 1']);
  });

  test('PL521: in the dark nothing is to be had: no side, no colours, and standing there costs what a side would bring', () => {
    const dark = { ...inputs, lightAt: () => ({ share: 0, words: 'dark' }) };
    const { problem } = problemOfDay(dark);
    expect(problem.worth.flat()).toEqual(problem.worth.flat().map(() => 0));
    const there = problem.stretches.map(({ name }): Stay => ({ photographer: 0, stretch: name, spot: bank }));
    for (const stay of there) expect(judgedWorth(problem, [stay])).toBeLessThan(0);
    expect(judgedWorth(problem, there)).toBeLessThan(0);
  });

  test('PL521: worth is light times passes; eight passes of 16 min on the track give a keeper to 97 of 100', () => {
    expect(worthOf(inputs, 'N2', bank)).toBeCloseTo(0.8 * (1 - 0.65 ** 8), 9);
    expect(worthOf(inputs, 'N2', wall)).toBeCloseTo(0.5 * (1 - 0.65 ** 8), 9);
  });

  test('PL502: half sessions at one spot count 100, 45, 25, 15, then 10 of 100 each; a whole session is its two halves', () => {
    const slots = Array.from({ length: 4 }, (_, i) => slot(`N${i + 1}`, 9 + i, 0));
    const seenAt = (isHalved: boolean) => {
      const { problem } = problemOfDay({ ...inputs, isHalved, timetable: { ...inputs.timetable, slots } });
      const all = problem.stretches.map(({ name }): Stay => ({ photographer: 0, stretch: name, spot: wall }));
      const [first] = problem.worth.map((row) => row[1]!);
      return all.map((_, i) => seenBy(problem, all.slice(0, i + 1)) / first!);
    };
    const added = (sums: readonly number[]) => sums.map((sum, i) => sum - (sums[i - 1] ?? 0));
    for (const [i, share] of [1, 0.45, 0.25, 0.15, 0.1, 0.1, 0.1, 0.1].entries())
      expect(added(seenAt(true))[i]).toBeCloseTo(share, 9);
    for (const [i, share] of [1.45, 0.4, 0.2, 0.2].entries())
      expect(added(seenAt(false))[i]).toBeCloseTo(share / 1.45, 9);
  });

  test('PL522: sighting laps are worth less themselves, and the palette in full from anywhere', () => {
    const { problem, everyTime } = problemOfDay(inputs);
    expect(problem.worth[0]![0]).toBeCloseTo(DAY_WORTH.sighting * worthOf(inputs, 'N2', bank), 9);
    const palette = ([stretch, spot]: readonly [number, number]) =>
      problem.besides[stretch]![spot]! - everyTime * problem.worth[stretch]![spot]!;
    expect(palette([0, 0])).toBeCloseTo(DAY_WORTH.palette, 9);
    expect(palette([0, 1])).toBeCloseTo(DAY_WORTH.palette, 9);
    expect(palette([2, 0])).toBeCloseTo(0, 9);
  });

  test('PL523: clients, demand, rain and weights change the worth by what they say', () => {
    const plain = worthOf(inputs, 'F2', bank);
    const changed = (more: Partial<DayInputs>) => worthOf({ ...inputs, ...more }, 'F2', bank) / plain;
    expect(changed({ clients: [{ group: 'F', spots: [bank] }] })).toBeCloseTo(1.35, 9);
    expect(
      changed({
        clients: [
          { group: 'F', spots: [] },
          { group: 'N', spots: [] },
        ],
      }),
    ).toBeCloseTo(1.15, 9);
    expect(changed({ demands: [{ group: 'F', spot: bank, riders: 40, lacking: 10 }] })).toBeCloseTo(0.25, 9);
    expect(changed({ wishes: [{ kind: 'rain', from: at(13, 30), to: at(15) }] })).toBeCloseTo(0.6, 9);
    expect(
      changed({
        wishes: [
          { kind: 'weigh-spot', spot: bank, times: 2 },
          { kind: 'weigh-group', group: 'F', times: 0.5 },
        ],
      }),
    ).toBeCloseTo(1, 9);
    expect(changed({ wishes: [{ kind: 'weigh-spot', spot: bank, times: 0 }] })).toBe(0);
  });

  test('PL524: a load makes minutes on foot dearer, not in a vehicle; no way stays no way', () => {
    const costOf = (carriedKg: number, isOnFoot: boolean) =>
      problemOfDay({ ...inputs, carriedKg, wayBetween: () => ({ minutes: 10, isOnFoot }) }).problem.ways[0]![1]!.cost;
    expect(costOf(15, true)).toBeCloseTo(2 * costOf(0, true), 9);
    expect(costOf(15, false)).toBe(costOf(0, false));
    expect(problemOfDay({ ...inputs, wayBetween: () => null }).problem.ways[0]![1]).toBeNull();
  });

  test('PL524: nobody at the circuit skips a morning to save a walk of twice 20 min', () => {
    const starts = [0, 20, 40, 240, 260, 280, 300, 320, 340];
    const slots = starts.map((minute, i) => slot(`${'ABC'[i % 3]}${Math.floor(i / 3) + 1}`, 9, minute));
    const groups = ['A', 'B', 'C'].map((key) => ({ key, name: key }));
    const { problem } = problemOfDay({
      ...inputs,
      timetable: { groups, slots, slipRule: 'clock-fixed' },
      spots: [inputs.spots[0]!],
      wayBetween: () => ({ minutes: 20, isOnFoot: true }),
      carriedKg: 15,
    });
    const all = problem.stretches.map(({ name }): Stay => ({ photographer: 0, stretch: name, spot: bank }));
    const worth = (stays: readonly Stay[]) => {
      const judged = worthOfPlan(problem, stays);
      if (judged.kind !== 'worth') throw new Error(judged.sentences.join(' '));
      return judged.worth;
    };
    expect(worth(all)).toBeGreaterThan(worth(all.slice(3)));
  });

  test('PL525: head-on stands for neither side', () => {
    expect(problemOfDay(inputs).problem.sides).toEqual(['left', null]);
  });

  test('PL526: a wish that names what is not there binds nothing and is told', () => {
    const { problem, unheard } = problemOfDay({
      ...inputs,
      wishes: [
        { kind: 'pin', stretch: 'N9', spot: bank },
        { kind: 'forbid', stretch: 'N1', spot: 'pier' as SpotId },
        { kind: 'pin', stretch: 'N1', spot: bank },
      ],
    });
    expect(problem.wishes).toEqual([{ kind: 'pin', stretch: 'N1', spot: bank }]);
    expect(unheard).toEqual([
      'A wish names the session "N9", which the timetable does not have; take it back or name another.',
      'A wish names the spot "pier", which the circuit does not have; take it back or draw the spot.',
    ]);
  });

  test('PL527: under way, only what begins later is planned, from where one stands, and lunch is what is left of it', () => {
    const { problem } = problemOfDay({
      ...inputs,
      underWay: { at: at(12, 40), places: [bank], had: [{ group: 'N', spot: bank, worth: 0.5 }] },
    });
    expect(problem.stretches.map(({ name }) => name)).toEqual(['N2', 'F2']);
    expect(problem.start).toEqual({ at: at(12, 40), places: [bank] });
    expect(problem.vanBreaks).toEqual([{ from: at(12, 40), to: at(13), leastMinutes: 10 }]);
    expect(problem.had).toHaveLength(1);
  });
});

describe('why a plan stands where it stands', () => {
  const asked = problemOfDay({ ...inputs, spots: inputs.spots });
  const stays: Stay[] = ['N1', 'F1', 'N2', 'F2'].map((stretch, i) => ({
    photographer: 0,
    stretch,
    spot: i === 1 ? null : bank,
  }));

  test('PL521: a guessed lap counts the passes and says that it is a guess, and from what', () => {
    const guessed = { ms: millisecondsOf(96_400), guessedFrom: 'the circuit’s lap record' };
    const { problem, parts } = problemOfDay({ ...inputs, lapOf: () => guessed });
    const at = problem.stretches.findIndex(({ name }) => name === 'F2');
    const [passes] = parts[at]!.flat().filter(({ kind }) => kind === 'passes');
    expect(passes!.words).toBe('9 passes, at a lap of about 1:36 guessed from the circuit’s lap record');
  });

  test('PL526: a wish for a spot whose permit is not had says so, not that the circuit lacks it', () => {
    const sandbar = 'sandbar' as SpotId;
    const leftOut = [{ id: sandbar, why: 'Sandbar, which wants a permit, and nobody said whether you have it' }];
    const wishes = [{ kind: 'pin', stretch: 'N1', spot: sandbar } as const];
    expect(problemOfDay({ ...inputs, leftOut, wishes }).unheard).toEqual([
      'A wish names Sandbar, which wants a permit, and nobody said whether you have it: the plan does without. Say so where it is drawn, or take the wish back.',
    ]);
  });

  test('PL523: what the coverage lacks is told as the guess it is, those in no picture apart', () => {
    const lacking = (unseen: number) =>
      problemOfDay({
        ...inputs,
        demands: [{ group: 'N', spot: bank, riders: 12, lacking: 12, unseen }],
      }).parts[0]![0]!.find(({ kind }) => kind === 'lacking')!.words;
    expect(lacking(0)).toBe('12 of 12 still lack good frames from here (guess)');
    expect(lacking(1)).toBe('12 of 12 still lack good frames from here (guess, with about 1 whom no picture shows)');
  });

  test('PL1303: a bound further away than the plan is worth is told as not known', () => {
    const plan: FoundPlan = { kind: 'plan', stays: [], worth: 1, bound: 1.5, isProvenBest: false, from: 'solver' };
    expect(toldGap(plan)).toBeCloseTo(0.5, 9);
    expect(toldGap({ ...plan, bound: 13.3 })).toBeNull();
    expect(toldGap({ ...plan, bound: null })).toBeNull();
  });

  test('PL530: each stay says what it brings and of what that is made', () => {
    const whys = whyStays(asked, stays);
    expect(whys.map(({ stay, rank }) => [stay.stretch, rank])).toEqual([
      ['N1', 2],
      ['N2', 1],
      ['F2', 1],
    ]);
    const { worth } = asked.problem;
    expect(whys[0]!.brings).toBeCloseTo((0.4 / 1.45) * worth[0]![0]! + DAY_WORTH.palette, 9);
    expect(whys[2]!.brings).toBeCloseTo(worth[3]![0]!, 9);
    expect(whys[0]!.words).toBe(
      'N, the second best of 2 times here, counts 28 of 100; front light; 8 passes; sighting laps, slow and in a row; shows the colours of the group',
    );
    expect(whys[2]!.words).toBe('F, the only time here; front light; 8 passes, at a lap of 2 min that nobody said');
  });

  test('PL531: the next best is told with what it costs, and how sure that is', () => {
    const plan: FoundPlan = { kind: 'plan', stays, worth: 3, bound: 3.02, isProvenBest: false, from: 'solver' };
    const other: FoundPlan = {
      ...plan,
      stays: stays.map((stay) => ({ ...stay, spot: wall })),
      worth: 2.7,
      bound: 2.71,
    };
    const next = nextBest(asked.problem, plan, stays[3]!, other);
    expect(next?.spot).toBe(wall);
    expect(next?.costs.map((cost) => cost?.toFixed(2))).toEqual(['0.29', '0.32']);
    expect(next?.sentence).toBe(
      'Without Bank in F2 the best is Wall then; over the day it costs 0.30 of 3.00 (10.0 %).',
    );
  });

  test('the day without a stay forbids it and leaves out the pin that asked for it', () => {
    const pinned = { ...asked.problem, wishes: [{ kind: 'pin', stretch: 'F2', spot: bank } as const] };
    expect(dayWithout(pinned, stays[3]!).wishes).toEqual([{ kind: 'forbid', stretch: 'F2', spot: bank }]);
  });

  test('PL532: whom the ways cost is told in minutes of sessions', () => {
    expect([...minutesLost(asked.problem, stays)]).toEqual([['F', 20]]);
  });
});
