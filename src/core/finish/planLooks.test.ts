import { describe, expect, test } from 'vitest';
import type { Arrangement, Exposure } from '../arrange/types.js';
import type { FileId, FrameId } from '../ids.js';
import type { Finish } from '../log/finishSaid.js';
import type { Decision, FoldedLog } from '../log/types.js';
import type { FrameMeasured } from '../measure/types.js';
import { FIRST_FINISH, PLAIN_LOOK } from './finishes/index.js';
import { planLooks } from './planLooks.js';

const frameOf = (index: number): FrameId => `f${index}` as FrameId;
const fileOf = (index: number): FileId => `file${index}` as FileId;

/** Five frames of one bike at one spot, and one in the paddock. */
const exposures = Array.from(
  { length: 6 },
  (_, index) =>
    ({
      frameId: frameOf(index),
      mainFile: fileOf(index),
      files: [fileOf(index)],
      role: 'bike',
      spot: index < 5 ? 'bend' : null,
      session: index < 5 ? 0 : null,
      body: 'a',
      wall: index * 60_000,
      instant: index * 60_000,
    }) as unknown as Exposure,
);
const pixels = new Map(
  exposures.map(({ frameId }, index) => [
    frameId,
    {
      kind: 'measured',
      level: index === 1 ? { turnDeg: 0.8, by: 5 } : undefined,
      subjects: [
        {
          what: 'motorcycle',
          box: [0.4, 0.4, 0.2, 0.2],
          isMain: true,
          light: {
            ground: { stops: -1.5 - index / 4, red: 0.1, blue: 0 },
            subject: { stops: -2 - index / 4, red: 0.3, blue: 0 },
          },
        },
      ],
    } as unknown as FrameMeasured,
  ]),
);
const arrangement = {
  exposures,
  passes: exposures.map(({ frameId }) => ({ bikes: [{ frameId, subject: 0 }], rider: 'r' })),
} as unknown as Arrangement;

const planned = (...said: readonly Decision[]) =>
  planLooks(
    {
      arrangement,
      pixels,
      log: { inForce: said.map((decision) => ({ decision })) } as unknown as FoldedLog,
      sizeOf: () => ({ widthPx: 6000, heightPx: 4000 }),
    },
    new Set(exposures.map(({ frameId }) => frameId)),
  ).looks;

const own: Finish = { ...FIRST_FINISH, name: 'evening', warmth: 0.2, ratios: ['1:1', '4:5'] };
const forAll: Decision = { kind: 'finish', of: 'track', finish: own };

describe('planLooks', () => {
  test('LK18: until a finish is said every picture stays as it was taken', () => {
    for (const { look, crops } of planned().values()) {
      expect(look).toEqual(PLAIN_LOOK);
      expect(crops).toEqual([]);
    }
  });

  test('LK18: the later word stands, for all or for one frame by itself', () => {
    const alone: Finish = { ...own, name: 'by itself', exposureEv: 1, ratios: [] };
    const looks = planned({ ...forAll, finish: FIRST_FINISH }, forAll, {
      kind: 'finish-of',
      file: fileOf(2),
      finish: alone,
    });
    expect(looks.get(frameOf(0))).toMatchObject({ finish: { name: 'evening' }, isByItself: false });
    expect(looks.get(frameOf(2))).toMatchObject({ finish: { name: 'by itself' }, isByItself: true });
  });

  test('LK10: frames of the track are brought to each other, those of the paddock are left alone', () => {
    const looks = planned(forAll, { kind: 'finish', of: 'apart', finish: FIRST_FINISH });
    const gains = exposures.map(({ frameId }) => looks.get(frameId)!.look.gains[1]);
    expect(gains[4]).toBeGreaterThan(gains[0]!);
    expect(looks.get(frameOf(5))).toMatchObject({ balance: null, look: { gains: [1, 1, 1] } });
  });

  test('LK16: only the frame whose uprights said so is turned', () => {
    const looks = planned(forAll);
    expect(exposures.map(({ frameId }) => looks.get(frameId)!.look.turnDeg)).toEqual([0, 0.8, 0, 0, 0, 0]);
  });

  test('LK15: every shape that is asked for has its crop, and a person’s comes before the rule’s', () => {
    const box = [0.1, 0.1, 0.5, 0.75] as const;
    const looks = planned(forAll, { kind: 'crop-of', file: fileOf(3), ratio: '1:1', box });
    expect(looks.get(frameOf(3))!.crops).toMatchObject([
      { ratio: '1:1', crop: { kind: 'crop', source: 'said', box } },
      { ratio: '4:5', crop: { kind: 'crop', source: 'rule' } },
    ]);
  });

  test('LK22: a crop set on the level picture shows the same when levelling is put off later, and is where it was when it is on again', () => {
    const box = [0.1, 0.1, 0.5, 0.75] as const;
    const said: Decision = { kind: 'crop-of', file: fileOf(1), ratio: '1:1', box, turnDeg: 0.8 };
    const cropIn = (...all: readonly Decision[]) => planned(...all).get(frameOf(1))!.crops[0]!.crop;
    expect(cropIn(forAll, said)).toEqual({ kind: 'crop', source: 'said', box });
    const unlevelled: Decision = { ...forAll, finish: { ...own, isLevelled: false } };
    const crop = cropIn(forAll, said, unlevelled);
    if (crop.kind !== 'crop') throw new Error('Expected the crop to stand, but it does not.');
    expect(crop.box[2]).toBeLessThan(0.5);
    expect(crop.box[2] / crop.box[3]).toBeCloseTo(0.5 / 0.75, 9);
    expect(cropIn(forAll, said, unlevelled, forAll)).toEqual({ kind: 'crop', source: 'said', box });
  });

  test('LK23: a crop given back to the rule is the rule’s, and the other shape’s stays a person’s', () => {
    const box = [0.1, 0.1, 0.5, 0.5] as const;
    const crop = (ratio: '1:1' | '4:5', is: typeof box | null): Decision => ({
      kind: 'crop-of',
      file: fileOf(3),
      ratio,
      box: is,
      turnDeg: 0,
    });
    const before = planned(forAll).get(frameOf(3))!.crops;
    const looks = planned(forAll, crop('1:1', box), crop('4:5', box), crop('1:1', null));
    expect(looks.get(frameOf(3))!.crops).toEqual([
      before[0],
      { ratio: '4:5', crop: { kind: 'crop', source: 'said', box } },
    ]);
  });
});
