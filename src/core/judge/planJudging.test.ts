import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FrameId } from '../ids.js';
import type { Box, FrameMeasured, Subject } from '../measure/types.js';
import { type BikeInFrame, type BikeMeasured, planJudging } from './planJudging.js';
import { isSameBike, judgedByBike, judgementOf } from './stored.js';
import type { BikeJudgement, Judged } from './types.js';
import { JUDGE_VERSION } from './version.js';

const bike = (name: string): BikeInFrame => ({ frameId: name as FrameId, subject: 0 });
const names = (bikes: readonly BikeInFrame[]): string => bikes.map(({ frameId }) => frameId).join(' ');

/** `a3`: sharpness 3; a capital is cut. */
const measuredOf = ({ frameId }: BikeInFrame): BikeMeasured => ({
  isCut: /^[A-Z]/.test(frameId),
  sharpness: Number(frameId.slice(1)),
});
const nothing = { lookedAt: [], kept: [], proposed: [], passes: [] };
const never = (): boolean => false;

describe('which bikes are judged', () => {
  it('JU12: what is on a screen, what is kept, what is proposed, the best of every pass, then their second', () => {
    const passes = [['a1', 'a3', 'A9', 'a2'], ['b4'], ['c1', 'c5']].map((pass) => ({ bikes: pass.map(bike) }));
    const wish = { lookedAt: [bike('a1')], kept: [bike('b4')], proposed: [bike('c1'), bike('a1')], passes };
    expect(names(planJudging(wish, measuredOf, never))).toBe('a1 b4 c1 a3 c5 a2');
  });

  it('JU12: of a pass the best two whole ones, of equal sharpness the earlier; a cut one only where nothing else is', () => {
    const of = (...pass: string[]): string =>
      names(planJudging({ ...nothing, passes: [{ bikes: pass.map(bike) }] }, measuredOf, never));
    expect(of('x1', 'y1', 'z1')).toBe('x1 y1');
    expect(of('A9', 'b1')).toBe('b1 A9');
  });

  it('JU12: whatever is judged of it, the plan settles, names nothing twice and nothing that cannot be judged', () => {
    const aPass = fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(fc.array(aPass, { maxLength: 8 }), fc.nat(), (sharpness, skip) => {
        const passes = sharpness.map((pass, p) => ({ bikes: pass.map((_, k) => bike(`${p}-${k}`)) }));
        const of = ({ frameId }: BikeInFrame): BikeMeasured | null => {
          const [p = 0, k = 0] = frameId.split('-').map(Number);
          return (p + k) % 7 === skip % 7 ? null : { isCut: false, sharpness: sharpness[p]![k]! };
        };
        const judged = new Set<string>();
        for (let round = 0; round < 40; round += 1) {
          const plan = planJudging({ ...nothing, passes }, of, ({ frameId }) => judged.has(frameId));
          expect(new Set(names(plan).split(' ')).size).toBe(Math.max(1, plan.length));
          expect(plan.every((one) => of(one) !== null)).toBe(true);
          if (plan[0] === undefined) break;
          judged.add(plan[0].frameId);
        }
        expect(planJudging({ ...nothing, passes }, of, ({ frameId }) => judged.has(frameId))).toEqual([]);
        for (const { bikes } of passes) {
          const open = bikes.filter((one) => of(one) !== null);
          expect(open.filter(({ frameId }) => judged.has(frameId))).toHaveLength(Math.min(2, open.length));
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('stored judgements', () => {
  const FRAME = 'f'.repeat(32) as FrameId;
  const at = (box: Box): Subject => ({ box }) as Subject;
  const judgement = (box: Box, v = JUDGE_VERSION): BikeJudgement => ({
    kind: 'judged',
    v,
    frameId: FRAME,
    box,
    judged: { size: box[2] } as Judged,
  });

  it('JU11: a judgement is of the bike that lies where it lay, whatever place measuring gives it now', () => {
    const [left, right]: readonly [Box, Box] = [
      [0.1, 0.3, 0.3, 0.4],
      [0.55, 0.3, 0.3, 0.4],
    ];
    const pixels = { kind: 'measured', subjects: [at(right), at([0.105, 0.3, 0.3, 0.4])] } as unknown as FrameMeasured;
    const judged = judgedByBike(new Map([[FRAME, [judgement(left), judgement(right)]]]), new Map([[FRAME, pixels]]));
    expect(judged.get(`${FRAME}:0`)?.size).toBe(0.3);
    expect(judged.size).toBe(2);
    expect(judgementOf(at([0.1, 0.3, 0.3, 0.4]), [judgement(right)])).toBeUndefined();
  });

  it('JU11: riders half in front of each other are two bikes', () => {
    expect(isSameBike([0.1, 0.3, 0.3, 0.4], [0.2, 0.3, 0.3, 0.4])).toBe(false);
  });

  it('JU11: what an older judge said is not held against what the newest says', () => {
    expect(judgementOf(at([0, 0, 1, 1]), [judgement([0, 0, 1, 1], JUDGE_VERSION - 1)])).toBeUndefined();
  });
});
