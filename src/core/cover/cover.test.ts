import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildDay, type DaySpec, logOf, type PassSpec, wallAt } from '../../../test/builders/arrangement.js';
import type { SpotId } from '../ids.js';
import { type CoverInput, cover, isGoodFrame, judgeBikes, standsOf } from './index.js';

const beacon = 'beacon' as SpotId;
const gannet = 'gannet' as SpotId;
const SPOTS = [{ id: beacon }, { id: gannet }];
const SESSIONS: DaySpec['sessions'] = [
  { name: 'N1', group: 'N', start: '09:00', end: '09:20' },
  { name: 'F1', group: 'F', start: '09:20', end: '09:40' },
  { name: 'N2', group: 'N', start: '10:00', end: '10:20' },
];

/** Six other riders, one sharp frame each, so that there is something to compare with. */
const others = (session: number, spot: string | null = 'beacon', sharp = 1): PassSpec[] =>
  ['u', 'v', 'w', 'x', 'y', 'z'].map((rider, i) => ({
    rider,
    session,
    spot,
    at: `09:10:${10 + i}`,
    frames: [{ sharp }],
  }));

function inputOf(passes: readonly PassSpec[], more: Partial<CoverInput> = {}): CoverInput {
  const day = buildDay({ sessions: SESSIONS, passes });
  return { ...day, stands: [], spots: SPOTS, timetable: null, entries: null, now: null, ...more };
}

const of = (input: CoverInput, rider: string) => cover(input).riders.find((one) => one.rider === rider)!;
const kindsOf = (frames: PassSpec['frames'], passes = others(0)) => {
  const day = buildDay({
    sessions: SESSIONS,
    passes: [{ rider: 'a', session: 0, spot: 'beacon', at: '09:05:00', frames }, ...passes],
  });
  return day.frames[0]!.map((frameId) => isGoodFrame({ frameId, subject: 0 }, day.arrangement, day.pixels));
};

describe('a good frame', () => {
  it('CV1: is not one in which the bike touches the edge of the picture', () => {
    expect(kindsOf([{ sharp: 9, isCut: true }])[0]).toEqual({ kind: 'cut', reason: expect.stringContaining('edge') });
  });

  it('CV2: is sharp against what other riders’ best frames reach at that spot in that session', () => {
    const [sharp, soft] = kindsOf([{ sharp: 0.9 }, { sharp: 0.2 }]);
    expect(sharp).toMatchObject({ kind: 'good', comparedWith: 'spot-and-session', standing: 0.9 });
    expect(soft).toMatchObject({ kind: 'soft', comparedWith: 'spot-and-session' });
  });

  it('CV2: knows no absolute sharpness: multiplying every measurement changes no judgement', () => {
    const kinds = (k: number) =>
      kindsOf([{ sharp: 0.9 * k }, { sharp: 0.2 * k }], others(0, 'beacon', k)).map((j) => j.kind);
    expect(kinds(1000)).toEqual(kinds(1));
    expect(kinds(0.001)).toEqual(kinds(1));
  });

  it('CV3: is compared with the session, then the day, where its spot has too few others', () => {
    expect(kindsOf([{ sharp: 1 }], others(0, 'gannet'))[0]).toMatchObject({ kind: 'good', comparedWith: 'session' });
    expect(kindsOf([{ sharp: 1 }], others(2, 'gannet'))[0]).toMatchObject({ kind: 'good', comparedWith: 'day' });
  });

  it('CV3: is never compared with frames measured at another scale', () => {
    const day = buildDay({
      sessions: SESSIONS,
      passes: [
        { rider: 'a', session: 0, spot: 'beacon', at: '09:05:00', frames: [{ sharp: 0.1, scalePx: 6000 }] },
        ...others(0),
      ],
    });
    expect(isGoodFrame({ frameId: day.frames[0]![0]!, subject: 0 }, day.arrangement, day.pixels).kind).toBe('unsure');
  });

  it('CV21: is unsure where all is far softer than the day’s better frames, unless it is sharp beside those', () => {
    const soft = others(0, 'beacon', 0.1);
    const kinds = (bar: number, ...frames: NonNullable<PassSpec['frames']>) =>
      kindsOf(frames, [...soft, ...others(1, 'gannet', bar), ...others(2, 'gannet', bar)]).map(({ kind }) => kind);
    expect(kinds(1, { sharp: 0.1 }, { sharp: 0.9 }, { sharp: 0.02 })).toEqual(['unsure', 'good', 'unsure']);
    expect(kinds(0.3, { sharp: 0.1 }, { sharp: 0.02 })).toEqual(['good', 'soft']);
    expect(kindsOf([{ sharp: 0.1 }], soft)[0]!.kind).toBe('good');
  });

  it('CV4: may be a little softer when it is the sharpest of its pass, as a dark livery is', () => {
    const [sharpest, other] = kindsOf([{ sharp: 0.4 }, { sharp: 0.38 }]);
    expect(sharpest).toMatchObject({ kind: 'good', reason: expect.stringContaining('sharpest of its pass') });
    expect(other).toMatchObject({ kind: 'soft' });
  });

  it('CV23: is as sharp as a sharp one of its pass where less than a tenth lies between them, whichever side of half it lies', () => {
    const kinds = (...sharp: readonly number[]) =>
      kindsOf(sharp.map((one) => ({ sharp: one }))).map(({ kind }) => kind);
    const [, below] = kindsOf([{ sharp: 0.53 }, { sharp: 0.49 }]);
    expect(below).toMatchObject({
      kind: 'good',
      standing: 0.49,
      reason: expect.stringContaining('as sharp as a sharp one of its pass'),
    });
    expect(kinds(0.53, 0.44), 'more than a tenth').toEqual(['good', 'soft']);
    expect(kinds(0.53, 0.49, 0.445), 'no chain of small steps').toEqual(['good', 'good', 'soft']);
    expect(kinds(1.4, 0.53, 0.49), 'a sharper one takes nothing away').toEqual(['good', 'good', 'good']);
    expect(kinds(0.45, 0.44), 'what is good as its pass’ sharpest alone vouches for none').toEqual(['good', 'soft']);
  });

  it('CV5: what is all but as sharp as the sharpest of its own pass is unsure, not soft, where there is nobody else', () => {
    expect(kindsOf([{ sharp: 0.76 }, { sharp: 0.8 }, { sharp: 0.5 }], []).map(({ kind }) => kind)).toEqual([
      'unsure',
      'good',
      'soft',
    ]);
  });

  it('CV5: is the sharpest of its own pass where there is nobody else to compare with', () => {
    expect(kindsOf([{ sharp: 0.4 }, { sharp: 0.8 }], []).map((judgement) => judgement.kind)).toEqual(['soft', 'good']);
    expect(kindsOf([{ sharp: 0.4 }], [])[0]).toEqual({
      kind: 'unsure',
      reason: expect.stringContaining('nothing to compare'),
    });
  });

  it('CV6: is unsure, with the reason, while nothing was measured', () => {
    expect(kindsOf([{ sharp: null }])[0]).toEqual({ kind: 'unsure', reason: expect.stringContaining('too small') });
    const day = buildDay({ sessions: SESSIONS, passes: others(0) });
    const bike = { frameId: day.frames[0]![0]!, subject: 0 };
    expect(isGoodFrame(bike, day.arrangement, new Map())).toEqual({ kind: 'unsure', reason: 'not measured yet' });
  });
});

describe('coverage', () => {
  const pass = (session: number, spot: string | null, sharp: readonly number[], at = '09:05:00'): PassSpec => ({
    rider: 'a',
    session,
    spot,
    at,
    frames: sharp.map((value) => ({ sharp: value })),
  });

  it('CV7: a rider with fewer than two good frames is thin, and the number can be changed', () => {
    const passes = [pass(0, 'beacon', [1, 0.1]), ...others(0)];
    expect(of(inputOf(passes), 'a')).toMatchObject({ goodFrames: 1, frames: 2, isThin: true });
    expect(of(inputOf(passes, { rules: { thinBelowGoodFrames: 1 } }), 'a').isThin).toBe(false);
    expect(cover(inputOf(passes)).thin).toContain('a');
  });

  it('CV22: a portrait of a rider covers nobody, however sharp', () => {
    const passes: PassSpec[] = [
      { rider: 'a', session: 0, spot: 'beacon', at: '09:05:00', frames: [{ sharp: 1 }] },
      { rider: 'a', session: 0, spot: null, at: '09:30:00', frames: [{ sharp: 2 }, { sharp: 2 }] },
      ...others(0),
    ];
    const input = inputOf(passes);
    const portraits = input.arrangement.passes.find(({ bikes, rider }) => rider === 'a' && bikes.length === 2)!.bikes;
    const exposures = input.arrangement.exposures.map((exposure) =>
      portraits.some(({ frameId }) => frameId === exposure.frameId)
        ? { ...exposure, apart: { is: 'portrait', source: { kind: 'said' } } as const }
        : exposure,
    );
    expect(of(input, 'a')).toMatchObject({ frames: 3, isThin: false });
    expect(of({ ...input, arrangement: { ...input.arrangement, exposures } }, 'a')).toMatchObject({
      frames: 1,
      goodFrames: 1,
      isThin: true,
    });
  });

  it('CV8: a frame whose spot nobody knows still counts', () => {
    const covered = of(inputOf([pass(0, null, [1]), pass(2, 'beacon', [1], '10:05:00'), ...others(0, null)]), 'a');
    expect(covered).toMatchObject({ goodFrames: 2, isThin: false });
    expect(covered.cells.map((cell) => cell.spot)).toEqual([null, 'beacon']);
  });

  it('CV9: the wheel says good, unsure, missed and to come', () => {
    const day = inputOf([pass(0, 'beacon', [1]), ...others(0), ...others(2, 'gannet')]);
    const wheel = (more: Partial<CoverInput>) => of({ ...day, ...more }, 'a').wheel.map((arc) => arc.state);
    expect(wheel({})).toEqual(['good', 'missed']);
    expect(wheel({ now: wallAt('09:30') })).toEqual(['good', 'to-come']);
    expect(of(inputOf([pass(0, 'beacon', [0.1]), ...others(0)]), 'a').wheel[0]!.state).toBe('unsure');
  });

  it('CV9: a stand said by a person makes a spot missed even when no frame shows it', () => {
    const stands = standsOf(logOf([{ kind: 'stood-at', spot: gannet, from: wallAt('09:55'), to: wallAt('10:25') }]));
    const input = inputOf([pass(0, 'beacon', [1]), ...others(0)], { stands });
    expect(of(input, 'a').wheel[1]!.state).toBe('missed');
    expect(of({ ...input, now: wallAt('10:10') }, 'a').wheel[1]!.state).toBe('to-come');
    expect(cover(input).emptyStands).toEqual([{ spot: 'gannet', session: 2 }]);
  });

  it('CV10: a spot stood at while only other groups ran is not missed', () => {
    const stands = standsOf(logOf([{ kind: 'stood-at', spot: gannet, from: wallAt('09:21'), to: wallAt('09:39') }]));
    expect(of(inputOf([pass(0, 'beacon', [1]), ...others(0)], { stands }), 'a').wheel[1]!.state).toBe('to-come');
  });

  it('CV10: a rider who changed group misses nothing of the old group afterwards', () => {
    const sessions = [
      ...SESSIONS,
      { name: 'N3', group: 'N', start: '14:00', end: '14:20' },
      { name: 'F3', group: 'F', start: '14:20', end: '14:40' },
    ];
    const day = buildDay({
      sessions,
      passes: [pass(0, 'beacon', [1]), pass(4, 'beacon', [1], '14:30:00'), ...others(0), ...others(3, 'gannet')],
    });
    const input = { ...day, stands: [], spots: SPOTS, timetable: null, entries: null, now: null };
    // N3 (14:00) is nearest to F3 (14:20), so the rider's group is then F and Gannet in N3 is not theirs.
    expect(of(input, 'a').wheel[1]!.state).toBe('to-come');
  });

  it('CV11: without an entry list nothing is said of riders never seen', () => {
    expect(cover(inputOf(others(0))).neverSeen).toBeNull();
  });

  it('CV12: an entry is seen when a rider shows its number in its class, and said, not lost, when it has no number', () => {
    const day = buildDay({
      sessions: SESSIONS,
      passes: [pass(0, 'beacon', [1]), { rider: 'b', session: 0, spot: 'beacon', at: '09:07:00', frames: [{}] }],
      riders: { a: { number: '94' }, b: { number: '12', numberConfidence: 0.4 } },
    });
    const entries = [
      { number: '94', class: 'N', words: '94 novice' },
      { number: '94', class: 'F', words: '94 fast' },
      { number: '12', words: '12' },
      { words: 'green bike, no number' },
    ];
    const coverage = cover({ ...day, stands: [], spots: SPOTS, timetable: null, entries, now: null });
    expect(coverage.neverSeen).toEqual([
      { number: '94', words: '94 fast' },
      { number: '12', words: '12' },
    ]);
    expect(coverage.cannotTell).toEqual([{ words: 'green bike, no number' }]);
  });
});

const sharpness = fc.double({ min: 0.01, max: 3, noNaN: true });
const anyFrame = fc.record({
  sharp: fc.option(sharpness, { nil: null }),
  isCut: fc.boolean(),
  scalePx: fc.constantFrom(1620, 6000),
});
const anyPass = fc.record({
  rider: fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f', 'g'),
  session: fc.constantFrom(0, 1, 2),
  spot: fc.constantFrom('beacon', 'gannet', null),
  at: fc.constantFrom('09:05:00', '09:06:00', '09:07:00'),
  frames: fc.array(anyFrame, { minLength: 1, maxLength: 4 }),
});
const anyPasses = fc.array(anyPass, { minLength: 1, maxLength: 30 });

describe('what always holds of coverage', () => {
  it('CV13: cells, wheel and totals agree with the frames of the passes', () => {
    fc.assert(
      fc.property(anyPasses, (passes) => {
        const input = inputOf(passes);
        const judged = judgeBikes(input.arrangement, input.pixels);
        for (const rider of cover(input).riders) {
          const bikes = input.arrangement.passes.filter((one) => one.rider === rider.rider).flatMap((one) => one.bikes);
          const good = bikes.filter((bike) => judged.get(`${bike.frameId}:${bike.subject}`)!.kind === 'good');
          expect(rider.frames).toBe(bikes.length);
          expect(rider.goodFrames).toBe(good.length);
          expect(rider.cells.reduce((n, cell) => n + cell.frames, 0)).toBe(rider.frames);
          expect(rider.cells.reduce((n, cell) => n + cell.goodFrames, 0)).toBe(rider.goodFrames);
          const unknown = rider.cells.filter((cell) => cell.spot === null).reduce((n, cell) => n + cell.frames, 0);
          expect(rider.wheel.reduce((n, arc) => n + arc.frames, 0) + unknown).toBe(rider.frames);
        }
      }),
    );
  });

  it('CV14: one more frame of a rider never lowers that rider’s count of good frames, so never makes them thin', () => {
    fc.assert(
      fc.property(anyPasses, fc.nat(), anyFrame, (passes, where, frame) => {
        const at = where % passes.length;
        const more = passes.map((one, i) => (i === at ? { ...one, frames: [...one.frames, frame] } : one));
        const rider = passes[at]!.rider;
        expect(of(inputOf(more), rider).goodFrames).toBeGreaterThanOrEqual(of(inputOf(passes), rider).goodFrames);
      }),
      { numRuns: 500 },
    );
  });

  it('CV14: nor does one more pass', () => {
    fc.assert(
      fc.property(anyPasses, anyPass, (passes, one) => {
        const before = cover(inputOf(passes)).riders.find((rider) => rider.rider === one.rider)?.goodFrames ?? 0;
        expect(of(inputOf([...passes, one]), one.rider).goodFrames).toBeGreaterThanOrEqual(before);
      }),
      { numRuns: 500 },
    );
  });
});
