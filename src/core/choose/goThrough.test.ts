import { describe, expect, it } from 'vitest';
import { fileIdOf, logOf } from '../../../test/builders/arrangement.js';
import { A, choosingOf, passOfA } from '../../../test/builders/choosing.js';
import type { FileId, GestureId, RiderKey, WriterId } from '../ids.js';
import type { Decision, FoldedLog } from '../log/types.js';
import { seededRandom } from '../numeric/random.js';
import { type EpochMs, epochMsOf } from '../units.js';
import { answersOf, secondsAPicture, timeLeftFor } from './timeLeft.js';

const U = 'u' as RiderKey;
const passes = [
  passOfA(0, 'beacon', '09:02:00', { sharp: 1 }, { sharp: 0.9 }),
  passOfA(1, 'gannet', '10:02:00', { sharp: 0.8 }),
];
const through = (files: readonly number[], of = 1): Decision => ({
  kind: 'gone-through',
  of: { file: fileIdOf(of), x: 0.5, y: 0.5 },
  files: files.map(fileIdOf),
});

describe('going through the riders', () => {
  it('CH24: those below the least come first, the thinnest before all, then the day’s order; who instructs comes last', () => {
    const { choosing } = choosingOf({ passes, rules: { leastPerRider: 3 } });
    const left = choosing.left();
    expect(left.left).toEqual(['a', 'u', 'v', 'w', 'x', 'y']);
    expect(left.belowLeast).toEqual(['a']);
    const thin = choosingOf({ passes: [passes[0]!], rules: { leastPerRider: 4 } }).choosing.left();
    expect(thin.belowLeast).toEqual(['a', 'u', 'v', 'w', 'x', 'y']);
    const teaching = choosingOf({ passes, riders: { a: { isInstructor: true } }, rules: { leastPerRider: 3 } });
    expect(teaching.choosing.left()).toMatchObject({ left: ['u', 'v', 'w', 'x', 'y', 'a'], belowLeast: [] });
  });

  it('CH24: a rider whose set was gone through is left no more, until a frame stands there that did not then', () => {
    const gone = choosingOf({ passes, decisions: [through([1, 3])] }).choosing.left();
    expect(gone.gone).toEqual([A]);
    expect(gone.left).not.toContain(A);
    const oneWasNew = choosingOf({ passes, decisions: [through([1])] }).choosing.left();
    expect(oneWasNew.left).toContain(A);
    // One fewer is nothing to look at again.
    const fewer = choosingOf({ passes, decisions: [through([1, 3]), { kind: 'leave-out', file: fileIdOf(3) }] });
    expect(fewer.choosing.left().gone).toEqual([A]);
  });

  it('CH24: who was taken down is neither left nor gone', () => {
    const { choosing } = choosingOf({
      passes,
      riders: { a: { id: 'rider-a' } },
      decisions: [{ kind: 'take-down', rider: 'rider-a' as never }],
    });
    const { left, gone } = choosing.left();
    expect([...left, ...gone]).not.toContain(A);
  });

  it('CH24: what was gone through stands: a better frame and a new run change nothing, and it is still nobody’s word', () => {
    expect(choosingOf({ passes }).kept).toEqual(['0/0', '1/0']);
    const judged = { '0/0': { fine: 0.4 }, '0/1': { fine: 1 } };
    expect(choosingOf({ passes, judged }).kept).toContain('0/1');
    const after = choosingOf({ passes, judged, decisions: [through([1, 3])] });
    expect([...after.kept].sort()).toEqual(['0/0', '1/0']);
    expect(after.ofA.keepers.map(({ source }) => source)).toEqual(['proposed', 'proposed']);
    expect(after.ofA.keepers[0]!.reasons[0]).toBe('stood when the set was gone through');
    expect(after.choosing.left().gone).toEqual([A]);
    const rules = { mostInAll: 1 };
    expect(choosingOf({ passes, decisions: [through([1, 3])], rules }).kept).toHaveLength(2);
    // Left out, before or since, it goes; what nobody looked at changes with what is known.
    const leaveOut: Decision = { kind: 'leave-out', file: fileIdOf(1) };
    expect(choosingOf({ passes, judged, decisions: [through([1, 3]), leaveOut] }).kept).not.toContain('0/0');
    expect(choosingOf({ passes, judged, decisions: [leaveOut, through([1, 3])] }).kept).not.toContain('0/0');
    const unseen = [{ ...through([1, 3]), unseen: true } as Decision];
    expect(choosingOf({ passes, decisions: unseen }).choosing.left().gone).toEqual([A]);
    expect(choosingOf({ passes, judged, decisions: unseen }).kept).toContain('0/1');
  });

  it('CH24: of a picture with two riders only the one whose set it was is kept by it', () => {
    const left = { box: [0.05, 0.3, 0.3, 0.4], sharp: 0.1 } as const;
    const right = { box: [0.6, 0.3, 0.3, 0.4], sharp: 0.1, sameFrameAs: [0, 0] } as const;
    const both = [passOfA(0, 'beacon', '09:02:00', left), { ...passOfA(0, 'beacon', '09:02:00', right), rider: 'b' }];
    const of = { file: fileIdOf(1), x: 0.2, y: 0.5 };
    const { choosing } = choosingOf({ passes: both, decisions: [{ kind: 'gone-through', of, files: [fileIdOf(1)] }] });
    const reasonOf = (rider: string) => choosing.keepers.byRider.get(rider as RiderKey)![0]!.reasons[0];
    expect(reasonOf('a')).toBe('stood when the set was gone through');
    expect(reasonOf('b')).toContain('soft');
  });
});

/** Sets gone through one after the other, so many seconds each. */
function answered(seconds: readonly number[], pictures: readonly number[], unseen: readonly number[] = []): FoldedLog {
  let at = 0;
  const log = logOf(
    seconds.map((_, i): Decision => {
      const files = Array.from({ length: pictures[i]! - 1 }, (_, k) => fileIdOf(k + 1)) as FileId[];
      const of = { file: fileIdOf(1), x: 0.5, y: 0.5 };
      return { kind: 'gone-through', of, files, ...(unseen.includes(i) ? { unseen: true as const } : {}) };
    }),
  );
  const lines = log.lines.map((line, i) => {
    at += seconds[i]! * 1000;
    return { ...line, at: epochMsOf(at) as EpochMs };
  });
  return { ...log, lines };
}

describe('how long it takes', () => {
  it('CH25: answers are from one set to the next; pauses and sets let stand unseen are none; nor is the first', () => {
    const log = answered([10, 12, 900, 8, 10, 1, 12], [7, 7, 7, 7, 7, 7, 7], [5]);
    expect(answersOf(log).map(({ seconds }) => seconds)).toEqual([12, 8, 10, 12]);
    const two = { ...log, lines: log.lines.map((line, i) => ({ ...line, writer: `w${i % 2}` as WriterId })) };
    expect(answersOf(two).length).toBeLessThan(6);
    // The rest as proposed is one gesture of many lines.
    const atOnce = { ...log, lines: log.lines.map((line) => ({ ...line, gesture: 'one' as GestureId })) };
    expect(answersOf(atOnce)).toEqual([]);
  });

  it('CH25: who is slow does not pause: gaps are held against what answers usually take', () => {
    expect(answersOf(answered([0, 200, 220, 210, 190, 230], [7, 7, 7, 7, 7, 7]))).toHaveLength(5);
  });

  it('CH25: with fewer than five answers nothing is said, with none left it is done', () => {
    const few = Array.from({ length: 4 }, () => ({ seconds: 10, pictures: 5 }));
    expect(timeLeftFor(few, [5, 5])).toEqual({ kind: 'not-known-yet', answers: 4, wanted: 5 });
    expect(timeLeftFor([], [])).toEqual({ kind: 'done' });
    expect(secondsAPicture(few)).toBeNull();
  });

  it('CH25: seconds go with the pictures to look at', () => {
    const answers = [4, 8, 6, 10, 12].map((pictures) => ({ seconds: 2 * pictures, pictures }));
    const left = timeLeftFor(answers, [5, 7]);
    expect(left).toMatchObject({ kind: 'guessed', seconds: 24, answers: 5 });
    expect(left.kind === 'guessed' && left.to - left.from).toBeCloseTo(0, 9);
  });

  it('CH25: it is between its ends about nine times in ten, whether five answers are there or forty', () => {
    const random = seededRandom(7);
    const answerOf = () => {
      const pictures = random.integer(3, 13);
      return { pictures, seconds: pictures * 1.2 * Math.exp(0.5 * random.normal()) };
    };
    for (const answers of [5, 40]) {
      let inside = 0;
      const tries = 2000;
      for (let i = 0; i < tries; i += 1) {
        const guess = timeLeftFor(Array.from({ length: answers }, answerOf), STILL);
        const truth = STILL.reduce((sum, pictures) => sum + pictures * 1.2 * Math.exp(0.5 * random.normal()), 0);
        if (guess.kind === 'guessed' && guess.from <= truth && truth <= guess.to) inside += 1;
      }
      expect(inside / tries, `${answers} answers`).toBeGreaterThan(0.84);
      expect(inside / tries, `${answers} answers`).toBeLessThan(0.97);
    }
  });
});

const STILL = Array.from({ length: 60 }, (_, i) => 3 + (i % 11));

describe('twenty minutes', () => {
  const close = passOfA(0, 'beacon', '09:02:00', { sharp: 1 }, { sharp: 0.99 }, { sharp: 0.98 });
  const clear = passOfA(0, 'beacon', '09:04:00', { sharp: 1 }, { sharp: 0.1 });

  it('CH26: those below the least before all others; then who gains most in a second; the rest stands as proposed', () => {
    const day = [close, { ...clear, rider: 'b' }];
    const plan = choosingOf({ passes: day, rules: { leastPerRider: 0 } }).choosing.minutes(1);
    expect(plan.look[0]).toBe(A);
    expect([...plan.look, ...plan.asProposed].sort()).toEqual(['a', 'b', 'u', 'v', 'w', 'x', 'y']);
    const below = choosingOf({ passes: day, rules: { leastPerRider: 2 } }).choosing.minutes(1);
    expect(new Set(below.look.slice(0, 2))).toEqual(new Set([A, 'b']));
  });

  it('CH26: no more than there is time for, at the person’s own pace once it is known', () => {
    const { choosing } = choosingOf({ passes });
    const plan = choosing.minutes(0.2);
    expect(plan.pace).toBe('usual');
    expect(plan.seconds).toBeLessThanOrEqual(12);
    expect(plan.look.length).toBeGreaterThan(0);
    expect(plan.asProposed.length).toBeGreaterThan(0);
    expect(choosing.minutes(0)).toMatchObject({ look: [], seconds: 0 });
    const slow = choosingOf({ passes, log: answered([0, 60, 60, 60, 60, 60], [2, 2, 2, 2, 2, 2]) });
    expect(slow.choosing.minutes(2)).toMatchObject({ pace: 'of the answers', seconds: 90 });
    expect(slow.choosing.left().left).toContain(U);
  });
});
