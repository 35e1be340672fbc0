import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BuiltDay,
  buildDay,
  type DaySpec,
  fileIdOf,
  logOf,
  type PassSpec,
} from '../../../test/builders/arrangement.js';
import { cover } from '../cover/index.js';
import type { RiderKey, WriterId } from '../ids.js';
import type { Decision, FoldedLog } from '../log/types.js';
import { type ChooseRules, chooseKeepers } from './index.js';

const SESSIONS: DaySpec['sessions'] = [
  { name: 'N1', group: 'N', start: '09:00', end: '09:20' },
  { name: 'N2', group: 'N', start: '10:00', end: '10:20' },
  { name: 'N3', group: 'N', start: '11:00', end: '11:20' },
];
const others: PassSpec[] = ['u', 'v', 'w', 'x', 'y'].flatMap((rider, i) =>
  [0, 1, 2].map((session) => ({
    rider,
    session,
    spot: 'beacon',
    at: `${9 + session}:10:${10 + i}`,
    frames: [{ sharp: 1 }],
  })),
);

function choose(
  passes: readonly PassSpec[],
  decisions: readonly Decision[] | FoldedLog = [],
  rules?: Partial<ChooseRules>,
) {
  const day = buildDay({ sessions: SESSIONS, passes: [...passes, ...others] });
  const log = 'inForce' in decisions ? decisions : logOf(decisions);
  return { day, ...chosen(day, log, rules) };
}

function chosen(day: BuiltDay, log: FoldedLog, rules: Partial<ChooseRules> = {}) {
  const coverage = cover({ ...day, stands: [], spots: [], timetable: null, entries: null, now: null });
  const keepers = chooseKeepers({ arrangement: day.arrangement, coverage, pixels: day.pixels, log, rules });
  const ofA = keepers.byRider.get('a' as RiderKey) ?? [];
  return { keepers, ofA, frames: ofA.map((keeper) => keeper.bike.frameId) };
}

const pass = (session: number, spot: string | null, at: string, frames: PassSpec['frames']): PassSpec => ({
  rider: 'a',
  session,
  spot,
  at,
  frames,
});

describe('choosing keepers', () => {
  it('CH1: what a person kept is kept, however soft, and first', () => {
    const passes = [pass(0, 'beacon', '09:05:00', [{ sharp: 0.05 }, { sharp: 1 }])];
    const { ofA, day } = choose(passes, [{ kind: 'keep', file: fileIdOf(1) }]);
    expect(ofA[0]).toMatchObject({ bike: { frameId: day.frames[0]![0] }, source: 'kept-by-person' });
    expect(ofA[0]!.reasons[0]).toBe('a person kept it');
  });

  it('CH1: what a person left out is not proposed, and is listed', () => {
    const passes = [pass(0, 'beacon', '09:05:00', [{ sharp: 1 }, { sharp: 0.9 }])];
    const { frames, keepers, day } = choose(passes, [{ kind: 'leave-out', file: fileIdOf(1) }]);
    expect(frames).toEqual([day.frames[0]![1]]);
    expect(keepers.leftOut).toEqual([{ frameId: day.frames[0]![0], subject: 0 }]);
  });

  it('CH1: the later of two words stands', () => {
    const passes = [pass(0, 'beacon', '09:05:00', [{ sharp: 1 }])];
    const say = (...kinds: ('keep' | 'leave-out')[]) =>
      choose(
        passes,
        kinds.map((kind) => ({ kind, file: fileIdOf(1) })),
      ).ofA;
    expect(say('leave-out', 'keep')).toHaveLength(1);
    expect(say('keep', 'leave-out')).toHaveLength(0);
  });

  it('CH1: said at once on two laptops, keep beats leave-out', () => {
    const passes = [pass(0, 'beacon', '09:05:00', [{ sharp: 1 }])];
    const log = logOf([
      { kind: 'keep', file: fileIdOf(1) },
      { kind: 'leave-out', file: fileIdOf(1) },
    ]);
    const [first, second] = log.inForce;
    const elsewhere = { ...second!, line: { ...second!.line, writer: 'writer-two' as WriterId, seq: 1, lamport: 1 } };
    const together = { ...log, lines: [first!.line, elsewhere.line], inForce: [first!, elsewhere] };
    expect(choose(passes, together).ofA).toHaveLength(1);
  });

  it('CH2: a word on a point means the bike there, not the other one in the frame', () => {
    const left = { box: [0.05, 0.3, 0.3, 0.4] } as const;
    const right = { box: [0.6, 0.3, 0.3, 0.4], sameFrameAs: [0, 0] } as const;
    const passes = [pass(0, 'beacon', '09:05:00', [left]), { ...pass(0, 'beacon', '09:05:00', [right]), rider: 'b' }];
    const file = fileIdOf(1);
    const { keepers } = choose(passes, [{ kind: 'leave-out', file, point: { file, x: 0.75, y: 0.5 } }]);
    expect(keepers.byRider.get('a' as RiderKey)).toHaveLength(1);
    expect(keepers.byRider.get('b' as RiderKey)).toHaveLength(0);
  });

  it('CH3: of one burst only one frame is proposed, the sharpest, unless the bike has come much nearer', () => {
    const { frames, day } = choose([pass(0, 'beacon', '09:05:00', [{ sharp: 0.8 }, { sharp: 1 }, { sharp: 0.9 }])]);
    expect(frames).toEqual([day.frames[0]![1]]);
    const far = { box: [0.4, 0.4, 0.15, 0.2] } as const;
    const near = { box: [0.3, 0.2, 0.3, 0.6] } as const;
    expect(choose([pass(0, 'beacon', '09:05:00', [far, near])]).ofA).toHaveLength(2);
  });

  it('CH4: variety counts: a second spot comes before a second frame of the first, though a little less sharp', () => {
    const { ofA, day } = choose([
      pass(0, 'beacon', '09:05:00', [{ sharp: 1 }]),
      pass(0, 'beacon', '09:07:00', [{ sharp: 0.95 }]),
      pass(1, 'gannet', '10:05:00', [{ sharp: 0.9 }]),
    ]);
    expect(ofA.map((keeper) => keeper.bike.frameId)).toEqual([day.frames[0]![0], day.frames[2]![0], day.frames[1]![0]]);
    expect(ofA[1]!.reasons).toContain('first from this spot');
    expect(ofA[2]!.reasons).toContain('1 from this spot already');
  });

  it('CH5: the limits per rider and per spot hold for what is proposed, and a person may go past them', () => {
    const passes = [0, 1, 2, 3].map((i) => pass(0, 'beacon', `09:0${i + 2}:00`, [{ sharp: 1 }]));
    expect(choose(passes, [], { mostPerSpot: 2 }).ofA).toHaveLength(2);
    expect(choose(passes, [], { mostPerRider: 1 }).ofA).toHaveLength(1);
    const keepAll = [1, 2, 3, 4].map((n): Decision => ({ kind: 'keep', file: fileIdOf(n) }));
    expect(choose(passes, keepAll, { mostPerRider: 1, mostPerSpot: 1 }).ofA).toHaveLength(4);
  });

  it('CH5: a person’s quotas stand in the log; the last word counts whole', () => {
    const passes = [0, 1, 2, 3].map((i) => pass(i % 3, 'beacon', `${9 + (i % 3)}:0${i + 2}:00`, [{ sharp: 1 }]));
    expect(choose(passes, [{ kind: 'choose-rules', mostPerSpot: 2 }]).ofA).toHaveLength(2);
    expect(choose(passes, [{ kind: 'choose-rules', mostPerRider: 1 }]).ofA).toHaveLength(1);
    const later = choose(passes, [
      { kind: 'choose-rules', mostPerRider: 1 },
      { kind: 'choose-rules', mostPerSpot: 3, leastPerRider: 5 },
    ]);
    expect(later.keepers.rules).toEqual({ mostPerRider: 12, mostPerSpot: 3, mostInAll: null, leastPerRider: 5 });
    expect(later.ofA).toHaveLength(3);
    expect(choose(passes, [{ kind: 'choose-rules', mostPerRider: 2 }]).keepers.rules.leastPerRider).toBe(2);
  });

  it('CH6: soft and cut frames are not proposed beside good ones, but a rider with none still appears once', () => {
    const soft = [{ sharp: 0.1 }, { sharp: 0.2 }] as const;
    const { frames, day } = choose([
      pass(0, 'beacon', '09:05:00', [...soft]),
      pass(1, 'beacon', '10:05:00', [{ sharp: 1 }]),
    ]);
    expect(frames).toEqual([day.frames[1]![0]]);
    const only = choose([pass(0, 'beacon', '09:05:00', [...soft])]);
    expect(only.frames).toEqual([only.day.frames[0]![1]]);
    expect(only.ofA[0]!.reasons[0]).toContain('soft');
  });
});

const anyPass = fc.record({
  rider: fc.constantFrom('a', 'b'),
  session: fc.constantFrom(0, 1, 2),
  spot: fc.constantFrom('beacon', 'gannet', null),
  at: fc.constantFrom('09:05:00', '09:06:00', '09:07:00'),
  frames: fc.array(fc.record({ sharp: fc.double({ min: 0.01, max: 3, noNaN: true }) }), { minLength: 1, maxLength: 4 }),
});

describe('what always holds of keepers', () => {
  it('CH7: the same day gives the same keepers, no frame twice, and every rider has one', () => {
    fc.assert(
      fc.property(fc.array(anyPass, { minLength: 1, maxLength: 20 }), (passes) => {
        const { keepers, day } = choose(passes);
        expect(choose(passes).keepers).toEqual(keepers);
        for (const rider of day.arrangement.riders) {
          const frames = keepers.byRider.get(rider.key)!.map((keeper) => keeper.bike.frameId);
          expect(frames.length).toBeGreaterThan(0);
          expect(new Set(frames).size).toBe(frames.length);
        }
      }),
    );
  });

  it('CH22: a limit over all riders holds, a person’s keeps aside; what is cut off is always the end of a set', () => {
    fc.assert(
      fc.property(
        fc.array(anyPass, { minLength: 1, maxLength: 20 }),
        fc.integer({ min: 1, max: 12 }),
        (passes, most) => {
          const { keepers } = choose(passes, [], { mostInAll: most });
          const whole = choose(passes).keepers;
          const all = [...keepers.byRider.values()].flat();
          expect(all).toHaveLength(Math.min(most, [...whole.byRider.values()].flat().length));
          for (const [rider, kept] of keepers.byRider)
            expect(kept).toEqual(whole.byRider.get(rider)!.slice(0, kept.length));
          const counts = [...keepers.byRider].map(
            ([rider, kept]) => [kept.length, whole.byRider.get(rider)!.length] as const,
          );
          // Nobody has a second one while somebody who could have a first has none.
          if (counts.some(([now, could]) => now === 0 && could > 0))
            expect(Math.max(...counts.map(([now]) => now))).toBeLessThanOrEqual(1);
          const withKeep = choose(passes, [{ kind: 'keep', file: fileIdOf(1) }], { mostInAll: 1 }).keepers;
          expect([...withKeep.byRider.values()].flat().map(({ source }) => source)).toEqual(['kept-by-person']);
        },
      ),
    );
  });

  it('CH8: a frame left out by a person is never a keeper, whatever else is there', () => {
    fc.assert(
      fc.property(fc.array(anyPass, { minLength: 1, maxLength: 10 }), fc.nat(), (passes, n) => {
        const total = passes.reduce((sum, one) => sum + one.frames.length, 0);
        const file = fileIdOf((n % total) + 1);
        const { keepers, day } = choose(passes, [{ kind: 'leave-out', file }]);
        const out = day.arrangement.exposures.find((exposure) => exposure.mainFile === file)!.frameId;
        const kept = [...keepers.byRider.values()].flat().map((keeper) => keeper.bike.frameId);
        expect(kept).not.toContain(out);
        expect(keepers.leftOut.map((bike) => bike.frameId)).toContain(out);
      }),
    );
  });
});
