import { describe, expect, it } from 'vitest';
import { fileIdOf } from '../../../test/builders/arrangement.js';
import { choosingOf, passOfA } from '../../../test/builders/choosing.js';

const sure = new Map([['N', 1 / 500]]);
const beaconThrice = [2, 4, 6].map((minute) => passOfA(0, 'beacon', `09:0${minute}:00`, { sharp: 1 }));

describe('what a set shows first', () => {
  it('CH23: a frame with the number is in every set that can have one, be it the least sharp and room for one only', () => {
    const passes = [...beaconThrice, passOfA(0, 'beacon', '09:08:00', { sharp: 0.6, number: '27' })];
    const riders = { a: { number: '27' } };
    const { kept, ofA } = choosingOf({ passes, riders, rules: { mostPerRider: 1 } });
    expect(kept).toEqual(['3/0']);
    expect(ofA.keepers[0]!.reasons).toContain('first with the number');
    // Another number on the bike is somebody else's, or an old one.
    expect(choosingOf({ passes, riders: { a: { number: '72' } }, rules: { mostPerRider: 1 } }).kept).toEqual(['0/0']);
  });

  it('CH23: every spot with a good frame comes before a second frame of any', () => {
    const passes = [
      ...beaconThrice,
      passOfA(0, 'gannet', '09:12:00', { sharp: 0.6 }),
      passOfA(0, 'windlass', '09:14:00', { sharp: 0.6 }),
    ];
    const { kept } = choosingOf({ passes, rules: { mostPerRider: 3 } });
    expect([...kept].sort()).toEqual(['0/0', '3/0', '4/0']);
  });

  it('CH23: both sides and a slow frame are looked for, where the circuit says which side and which shutter is sure', () => {
    const passes = [
      ...beaconThrice,
      passOfA(1, 'gannet', '10:04:00', { sharp: 0.8 }),
      passOfA(1, 'gannet', '10:06:00', { sharp: 0.8 }),
    ];
    const spots = {
      beacon: { side: 'left' as const, sureShutterS: sure },
      gannet: { side: 'right' as const, sureShutterS: sure },
    };
    const taken = Object.fromEntries(
      ['0/0', '1/0', '2/0', '3/0', '4/0'].map((name) => [name, { shutterS: name === '2/0' ? 1 / 125 : 1 / 1000 }]),
    );
    const { ofA, kept } = choosingOf({ passes, spots, taken, rules: { mostPerRider: 3 } });
    expect([...kept].sort()).toEqual(['0/0', '2/0', '3/0']);
    expect(ofA.lacks).toEqual([]);
    const reasons = ofA.keepers.flatMap((keeper) => keeper.reasons);
    expect(reasons).toContain('first slow one, 1/125');
    expect(reasons).toContain('first of its left side');
    expect(reasons).toContain('first of its right side');
  });

  it('CH23: where nobody drew the circuit, neither side nor shutter is told, and neither is said to be lacking', () => {
    const { ofA } = choosingOf({ passes: beaconThrice });
    expect(ofA.lacks).toEqual([]);
    expect(ofA.keepers.flatMap(({ reasons }) => reasons).join()).not.toMatch(/side\b(?! on)|slow/);
  });

  it('CH23: what a set does not show is told: the number, a side, a slow frame', () => {
    const spots = { beacon: { side: 'left' as const, sureShutterS: sure } };
    const taken = { '0/0': { shutterS: 1 / 1000 } };
    const { ofA } = choosingOf({ passes: beaconThrice, riders: { a: { number: '27' } }, spots, taken });
    expect(ofA.lacks).toEqual([
      { kind: 'number', number: '27' },
      { kind: 'side', side: 'right' },
      { kind: 'shutter', is: 'slow' },
    ]);
  });
});

describe('what stands beside a set', () => {
  it('CH28: second is what would be taken were the keeper not there, with what the set loses by it', () => {
    const passes = [passOfA(0, 'beacon', '09:02:00', { sharp: 1 }, { sharp: 0.9 }, { sharp: 0.8 })];
    const { ofA, nameOf } = choosingOf({ passes });
    const [keeper] = ofA.keepers;
    expect(nameOf(keeper!.bike.frameId)).toBe('0/0');
    expect(nameOf(keeper!.second!.bike.frameId)).toBe('0/1');
    expect(keeper!.second!.loss).toBeGreaterThan(0);
    const without = choosingOf({ passes, decisions: [{ kind: 'leave-out', file: fileIdOf(1) }] });
    expect(without.kept).toEqual(['0/1']);
    expect(keeper!.worth - without.ofA.keepers[0]!.worth).toBeCloseTo(keeper!.second!.loss, 9);
  });

  it('CH28: what puts it behind is said in a few words', () => {
    const behind = (spec: Parameters<typeof choosingOf>[0]) => choosingOf(spec).ofA.keepers[0]!.second!.behind;
    const burst = (...frames: Parameters<typeof passOfA>[3][]) => [passOfA(0, 'beacon', '09:02:00', ...frames)];
    expect(behind({ passes: burst({ sharp: 1 }, { sharp: 0.8 }) })).toBe('less sharp');
    expect(behind({ passes: burst({ sharp: 1 }, { sharp: 1 }) })).toBe('as good; the earlier one stands');
    const small = { box: [0.3, 0.3, 0.25, 0.3] } as const;
    expect(behind({ passes: burst({ sharp: 1 }, small) })).toBe('smaller in the picture');
    const passes = burst({ sharp: 1 }, { sharp: 1 });
    expect(behind({ passes, judged: { '0/0': {}, '0/1': { fine: 0.6 } } })).toBe('less sharp at full resolution');
    expect(behind({ passes, judged: { '0/0': {}, '0/1': { post: 0.3 } } })).toBe('more stands in front of it');
    const number = burst({ sharp: 0.7, number: '27' }, { sharp: 1 });
    expect(behind({ passes: number, riders: { a: { number: '27' } } })).toBe(
      'better by itself, but shows less that is new',
    );
    const kept = burst({ sharp: 0.6 }, { sharp: 1 });
    expect(
      choosingOf({ passes: kept, decisions: [{ kind: 'keep', file: fileIdOf(1) }] }).ofA.keepers[0]!.second,
    ).toMatchObject({
      behind: 'worth more to the set, but a person’s word stands',
    });
  });

  it('CH28: nothing that is soft, left out or without room is second', () => {
    const burst = passOfA(0, 'beacon', '09:02:00', { sharp: 1 }, { sharp: 0.9 }, { sharp: 0.1 });
    const passes = [burst, passOfA(1, 'gannet', '10:02:00', { sharp: 0.9 }, { sharp: 0.1 })];
    const decisions = [{ kind: 'leave-out', file: fileIdOf(2) } as const];
    const { ofA, kept } = choosingOf({ passes, decisions });
    expect(kept).toEqual(['0/0', '1/0']);
    expect(ofA.keepers.map(({ second }) => second)).toEqual([null, null]);
    expect(ofA.leftOut).toHaveLength(1);
    // Alone, the soft one would appear in its place: everybody must.
    const alone = choosingOf({ passes: [burst], decisions });
    expect(alone.nameOf(alone.ofA.keepers[0]!.second!.bike.frameId)).toBe('0/2');
  });

  it('CH28: the other frames of its pass are there, best first, what was left out last; of other passes the best of each', () => {
    const passes = [
      passOfA(0, 'beacon', '09:02:00', { sharp: 0.8 }, { sharp: 1 }, { sharp: 0.1 }, { sharp: 0.9 }),
      passOfA(0, 'beacon', '09:04:00', { sharp: 0.2 }, { sharp: 0.25 }),
      passOfA(0, 'beacon', '09:06:00', { sharp: 0.7 }, { sharp: 0.75 }),
    ];
    const { ofA, nameOf } = choosingOf({
      passes,
      decisions: [{ kind: 'leave-out', file: fileIdOf(4) }],
      rules: { mostPerRider: 1 },
    });
    const [keeper] = ofA.keepers;
    expect(nameOf(keeper!.bike.frameId)).toBe('0/1');
    expect(keeper!.ofPass.map(({ bike }) => nameOf(bike.frameId))).toEqual(['0/0', '0/2', '0/3']);
    expect(keeper!.ofPass.at(-1)!.isLeftOut).toBe(true);
    expect(ofA.toAdd.map(({ bike }) => nameOf(bike.frameId))).toEqual(['2/1', '1/1']);
  });

  it('CH6: a set below the least says so and offers the best there is, soft as it may be; it is not taken by itself', () => {
    const passes = [
      passOfA(0, 'beacon', '09:02:00', { sharp: 1 }),
      passOfA(0, 'gannet', '09:04:00', { sharp: 0.2 }),
      passOfA(1, 'gannet', '10:04:00', { sharp: 0.25 }),
    ];
    const { ofA, kept, nameOf } = choosingOf({ passes, rules: { leastPerRider: 2 } });
    expect(kept).toEqual(['0/0']);
    expect(ofA.isBelowLeast).toBe(true);
    expect(ofA.toAdd.map(({ bike, judgement }) => [nameOf(bike.frameId), judgement])).toEqual([
      ['2/0', 'soft'],
      ['1/0', 'soft'],
    ]);
  });
});

describe('a closer look', () => {
  const burst = [passOfA(0, 'beacon', '09:02:00', { sharp: 1 }, { sharp: 0.95 }, { sharp: 0.9 })];

  it('CH20: among frames looked at closely, full resolution decides which is sharpest', () => {
    const { kept, ofA } = choosingOf({
      passes: burst,
      judged: { '0/0': { fine: 0.5 }, '0/1': { fine: 0.6 }, '0/2': { fine: 1 } },
    });
    expect(kept).toEqual(['0/2']);
    const [first] = ofA.keepers[0]!.ofPass;
    expect(first!.reasons.join()).toMatch(/out of focus: \d+ % lost/);
  });

  it('CH20: a post across the bike or a cut wheel counts against a frame, and the words say so', () => {
    const { kept, ofA } = choosingOf({
      passes: burst,
      judged: { '0/0': { post: 0.2 }, '0/1': {}, '0/2': { cut: 'wheel' } },
    });
    expect(kept).toEqual(['0/1']);
    const reasons = ofA.keepers[0]!.ofPass.map((other) => other.reasons.join('; '));
    expect(reasons[0]).toMatch(/post or person across it: \d+ % lost/);
    expect(reasons[1]).toContain('wheel cut by the edge of the picture');
    expect(ofA.keepers[0]!.ofPass[1]!.judgement).toBe('cut');
  });

  it('CH20: soft in the small picture, yet as fine at full resolution as a good frame beside it, it is good', () => {
    const passes = [passOfA(0, 'beacon', '09:02:00', { sharp: 1 }, { sharp: 0.3 })];
    expect(choosingOf({ passes }).ofA.keepers[0]!.ofPass[0]!.judgement).toBe('soft');
    const looked = choosingOf({ passes, judged: { '0/0': { fine: 1 }, '0/1': { fine: 0.95 } } });
    expect(looked.ofA.keepers[0]!.ofPass[0]!.judgement).toBe('good');
    const stillSoft = choosingOf({ passes, judged: { '0/0': { fine: 1 }, '0/1': { fine: 0.5 } } });
    expect(stillSoft.ofA.keepers[0]!.ofPass[0]!.judgement).toBe('soft');
  });

  it('CH20: the side told surely from the picture stands before the spot’s', () => {
    const { ofA } = choosingOf({
      passes: burst.slice(0, 1),
      spots: { beacon: { side: 'left' } },
      judged: { '0/0': { side: 'right' }, '0/1': {}, '0/2': {} },
    });
    expect(ofA.keepers[0]!.reasons).toContain('first of its right side');
  });

  it('CH29: of equal frames the one with the face to the camera, or a knee or elbow out, is kept, and the words say so; a sharper one is kept before it', () => {
    const equal = [passOfA(0, 'beacon', '09:02:00', { sharp: 0.9 }, { sharp: 0.9 }, { sharp: 0.9 })];
    const head = choosingOf({ passes: equal, judged: { '0/0': {}, '0/1': { isHeadTowards: true }, '0/2': {} } });
    expect(head.kept).toEqual(['0/1']);
    expect(head.ofA.keepers[0]!.reasons).toContain('face to the camera');
    const both = { isHeadTowards: true, isLimbOut: true };
    const limb = choosingOf({ passes: equal, judged: { '0/0': {}, '0/1': { isHeadTowards: true }, '0/2': both } });
    expect(limb.kept).toEqual(['0/2']);
    expect(limb.ofA.keepers[0]!.reasons).toContain('knee or elbow out');
    const soft = choosingOf({ passes: equal, judged: { '0/0': {}, '0/1': { fine: 0.7, ...both }, '0/2': {} } });
    expect(soft.kept).toEqual(['0/0']);
  });

  it('CH20: frames of one spot, lens and shutter are held against each other over passes; of another shutter they are not', () => {
    const passes = [passOfA(0, 'beacon', '09:02:00', { sharp: 1 }), passOfA(0, 'beacon', '09:04:00', { sharp: 1 })];
    const judged = { '0/0': { fine: 0.5 }, '1/0': { fine: 1 } };
    const shot = { shutterS: 1 / 1000, focalLengthMm: 300 };
    const together = choosingOf({ passes, judged, taken: { '0/0': shot, '1/0': shot } });
    expect(together.kept).toEqual(['1/0', '0/0']);
    const apart = choosingOf({ passes, judged, taken: { '0/0': shot, '1/0': { ...shot, shutterS: 1 / 125 } } });
    expect(apart.kept).toEqual(['0/0', '1/0']);
  });
});
