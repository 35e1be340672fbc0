/** A body's clock put right half-way, against simulated days whose offsets are known (`demo/simulated-day`). */
import { describe, expect, it } from 'vitest';
import {
  type DayOptions,
  foldedOf,
  ORDINARY_DAY,
  type SyntheticDay,
  syntheticDay,
} from '../../../../demo/simulated-day/index.js';
import type { Decision } from '../../log/types.js';
import { arrange, scoreArrangement } from '../index.js';
import { seeDay } from '../passesOfDay.js';
import type { Question } from '../types.js';
import { guessClocks } from './tracks.js';

const groups = ORDINARY_DAY.groups.map((group) => ({ ...group, riders: 8 }));
const [first, second] = ORDINARY_DAY.bodies as [DayOptions['bodies'][0], DayOptions['bodies'][0]];
const HOUR_MS = 3_600_000;

const mendedDay = (seed: number, fastMs: number, afterwardsMs: number, changes: Partial<DayOptions> = {}) =>
  syntheticDay({
    groups,
    bodies: [first, { ...second, fastMs, mended: { afterRound: 3, fastMs: afterwardsMs } }],
    ...changes,
    seed,
  });
const found = ({ input }: SyntheticDay) => guessClocks(seeDay(input, new Map(), null), [], input.timetable);

type ClockQuestion = Extract<Question, { kind: 'body-clock' }>;
const isStep = (question: Question): question is ClockQuestion =>
  question.kind === 'body-clock' && (question.fromFrame ?? question.toFrame) !== undefined;

describe('a clock put right at lunch', () => {
  it.each([
    ['an hour and a minute fast in the morning', 61 * 60_000, 0, {}],
    ['two minutes slow in the morning', -131_000, 0, {}],
    ['right in the morning and then set wrong', 0, 61 * 60_000, {}],
    ['fast in the morning, with two photographers at two spots', 61 * 60_000, 0, { layout: 'two-photographers' }],
  ] as const)('AR20: is asked for, to the second and to the frame: %s', (_, fastMs, afterwardsMs, changes) => {
    for (const seed of [1, 2, 3]) {
      const day = mendedDay(seed, fastMs, afterwardsMs, changes);
      const [step] = found(day).steps;
      const firstOfAfternoon = day.truth.exposures
        .filter((_, i) => day.input.files[i]!.metadata.body.serial === '50010007')
        .find(({ wall }) => wall > day.sessions[9]!.start - 60_000);
      expect(step).toMatchObject({ offsetMs: 0 - afterwardsMs, stretch: { fromFrame: firstOfAfternoon!.frameId } });
      expect(step!.stretch!.toFrame).toBeUndefined();
      expect(step!.reasons.length).toBeGreaterThan(1);
    }
  });

  it('AR20: of a body alone is asked for by whole hours', () => {
    const bodies = [{ ...first, fastMs: HOUR_MS, mended: { afterRound: 3, fastMs: 0 } }];
    const [step] = found(syntheticDay({ groups, bodies, seed: 1 })).steps;
    expect(step).toMatchObject({ offsetMs: -HOUR_MS, stretch: { toFrame: expect.any(String) } });
  });

  it('AR20: the answer puts every session right, and the rest of that body is still asked for', () => {
    const day = mendedDay(2, 61 * 60_000, 0);
    const before = arrange(day.input);
    expect(scoreArrangement(before, day.truth, day.input.pixels).sessions.wrongBoundaries).toBeGreaterThan(0);
    const { body, offsetMs, fromFrame } = before.questions.find(isStep)!;
    const answer: Decision = { kind: 'body-clock', body, offsetMs, fromFrame: fromFrame! };
    const after = arrange({ ...day.input, log: foldedOf([answer]) });
    const { sessions } = scoreArrangement(after, day.truth, day.input.pixels);
    expect([sessions.wrongBoundaries, sessions.wrongGroups]).toEqual([0, 0]);
    const rest = after.questions.find(isStep)!;
    expect(rest).toMatchObject({ body, offsetMs: -61 * 60_000 });
    const { kind, toFrame } = rest;
    expect(rest.frames).toBeGreaterThan(100);
    const both = [answer, { kind, body, offsetMs: rest.offsetMs, fromFrame: rest.fromFrame!, toFrame: toFrame! }];
    const last = arrange({ ...day.input, log: foldedOf(both) });
    expect(last.exposures.map(({ wall }) => wall)).toEqual(after.exposures.map(({ wall }) => wall));
    expect(last.questions.some((question) => question.kind === 'body-clock')).toBe(false);
  });
});

describe('a clock that nobody touched', () => {
  const dividers = { ...ORDINARY_DAY.dividers, forgotten: ['I1', 'F2', 'N4', 'N5', 'F5'], doubled: ['N2'] };
  const days: readonly Partial<DayOptions>[] = [
    {},
    { bodies: [first, { ...second, fastMs: 61 * 60_000 }] },
    { dividers: { ...dividers, lagS: [-12, 12] }, layout: 'two-photographers' },
    { dividers: { ...dividers, areUsed: false } },
    { dividers, slipRule: 'sliding', holds: [{ slot: 'I2', minutes: 12 }] },
    { bodies: [first] },
  ];
  const seeds = Array.from({ length: 10 }, (_, index) => index + 1);
  it.each(seeds)('AR20: is never said to have been mended, on six kinds of day of seed %i', (seed) => {
    for (const changes of days) {
      const { steps } = found(syntheticDay({ groups, ...changes, seed }));
      expect({ seed, changes, steps }).toEqual({ seed, changes, steps: [] });
    }
    expect(days).toHaveLength(6);
  });
});
