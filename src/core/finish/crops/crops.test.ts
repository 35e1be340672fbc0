import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Box } from '../../measure/types.js';
import type { EpochMs } from '../../units.js';
import { PLAIN_LOOK } from '../finishes/finishes.js';
import { finishedSize, planLook } from '../finishes/planLook.js';
import { RATIOS, type Ratio } from '../finishes/types.js';
import { boxLevelled, boxTurned, cropTo, headingOf, levelledShare } from './index.js';

const SIZE = { widthPx: 6000, heightPx: 4000 };
const SHAPE: Readonly<Record<Ratio, number>> = { '3:2': 1.5, '4:5': 0.8, '1:1': 1, '16:9': 16 / 9 };
const heading = fc.constantFrom('left' as const, 'right' as const, null);
/** Bikes wholly inside the picture, of any size and place. */
const bike = fc
  .record({
    width: fc.double({ min: 0.05, max: 0.9, noNaN: true }),
    height: fc.double({ min: 0.05, max: 0.9, noNaN: true }),
    x: fc.double({ min: 0.01, max: 0.99, noNaN: true }),
    y: fc.double({ min: 0.01, max: 0.99, noNaN: true }),
  })
  .map(({ width, height, x, y }): Box => [0.01 + (0.98 - width) * x, 0.01 + (0.98 - height) * y, width, height]);

describe('cropTo', () => {
  test('LK13: nothing of bike or rider is cut, the shape is right, and the crop lies in the picture', () => {
    fc.assert(
      fc.property(bike, heading, fc.constantFrom(...RATIOS), (box, way, ratio) => {
        const crop = cropTo(ratio, { size: SIZE, subjects: [box], heading: way, leadRoom: 1.6 });
        if (crop.kind !== 'crop') return;
        const [left, top, width, height] = crop.box;
        expect(left).toBeGreaterThanOrEqual(-1e-9);
        expect(top).toBeGreaterThanOrEqual(-1e-9);
        expect(left + width).toBeLessThanOrEqual(1 + 1e-9);
        expect(top + height).toBeLessThanOrEqual(1 + 1e-9);
        expect(box[0]).toBeGreaterThanOrEqual(left - 1e-9);
        expect(box[1]).toBeGreaterThanOrEqual(top - 1e-9);
        expect(box[0] + box[2]).toBeLessThanOrEqual(left + width + 1e-9);
        expect(box[1] + box[3]).toBeLessThanOrEqual(top + height + 1e-9);
        expect((width * SIZE.widthPx) / (height * SIZE.heightPx)).toBeCloseTo(SHAPE[ratio], 6);
      }),
    );
  });

  test('LK14: there is room ahead, whichever way the bike goes', () => {
    const subjects: readonly Box[] = [[0.4, 0.4, 0.2, 0.2]];
    for (const ratio of ['3:2', '1:1', '16:9'] as const) {
      const roomOf = (way: 'left' | 'right') => {
        const crop = cropTo(ratio, { size: SIZE, subjects, heading: way, leadRoom: 1.5 });
        if (crop.kind !== 'crop') throw new Error(`Expected a crop ${ratio}, but the picture was kept whole.`);
        return { left: 0.4 - crop.box[0], right: crop.box[0] + crop.box[2] - 0.6 };
      };
      const [right, left] = [roomOf('right'), roomOf('left')];
      expect(right.right / right.left).toBeGreaterThan(1.4);
      expect(left.left / left.right).toBeGreaterThan(1.4);
    }
  });

  test('two riders who belong together are both whole', () => {
    const subjects: readonly Box[] = [
      [0.2, 0.4, 0.2, 0.25],
      [0.5, 0.35, 0.25, 0.3],
    ];
    const crop = cropTo('3:2', { size: SIZE, subjects, heading: 'right', leadRoom: 1.4 });
    expect(crop.kind === 'crop' && crop.box[0] < 0.2 && crop.box[0] + crop.box[2] > 0.75).toBe(true);
  });

  test('LK15: what cannot be cropped stays whole, and why is said', () => {
    const whyOf = (box: Box | null, ratio: Ratio) => {
      const crop = cropTo(ratio, { size: SIZE, subjects: box ? [box] : [], heading: null, leadRoom: 1.4 });
      return crop.kind === 'kept-whole' ? crop.why : 'cropped';
    };
    expect(whyOf([0, 0.3, 0.4, 0.4], '1:1')).toBe('cut-already');
    expect(whyOf([0.05, 0.3, 0.9, 0.4], '4:5')).toBe('too-wide');
    expect(whyOf([0.4, 0.02, 0.2, 0.96], '16:9')).toBe('too-tall');
    expect(whyOf(null, '3:2')).toBe('nothing-found');
  });

  test('LK5: a crop is never enlarged, however large a picture is asked for', () => {
    fc.assert(
      fc.property(bike, fc.constantFrom(...RATIOS), fc.integer({ min: 400, max: 9000 }), (box, ratio, edge) => {
        const crop = cropTo(ratio, { size: SIZE, subjects: [box], heading: 'left', leadRoom: 1.4 });
        if (crop.kind !== 'crop') return;
        const size = finishedSize(planLook({ ...PLAIN_LOOK, crop: crop.box }, SIZE, edge));
        expect(size.widthPx).toBeLessThanOrEqual(Math.ceil(crop.box[2] * SIZE.widthPx));
        expect(Math.max(size.widthPx, size.heightPx)).toBeLessThanOrEqual(edge + 1);
      }),
    );
  });
});

describe('levelling', () => {
  test('what lies in the middle stays there, and a box holds its own corners', () => {
    fc.assert(
      fc.property(fc.double({ min: -4, max: 4, noNaN: true }), (deg) => {
        const [left, top, width, height] = boxLevelled([0.45, 0.45, 0.1, 0.1], SIZE, deg);
        expect(left + width / 2).toBeCloseTo(0.5, 9);
        expect(top + height / 2).toBeCloseTo(0.5, 9);
        expect(width).toBeGreaterThanOrEqual(0.1 - 1e-9);
        expect(levelledShare(SIZE, deg)).toBeLessThanOrEqual(1);
      }),
    );
  });
});

describe('boxTurned', () => {
  const deg = fc.double({ min: -4, max: 4, noNaN: true });
  const middleOf = ([left, top, width, height]: Box) => [left + width / 2, top + height / 2] as const;
  const pixelsOf = (box: Box, turnDeg: number) => levelledShare(SIZE, turnDeg) * box[2] * SIZE.widthPx;

  test('LK22: levelled otherwise, a crop in the midst shows the same, as large and of its shape, and back again is where it was', () => {
    fc.assert(
      fc.property(deg, deg, fc.double({ min: 0.25, max: 0.4, noNaN: true }), (from, to, left) => {
        const box: Box = [left, 0.3, 0.3, 0.3];
        const turned = boxTurned(box, SIZE, from, to);
        expect(pixelsOf(turned, to)).toBeCloseTo(pixelsOf(box, from), 6);
        expect(turned[2] / turned[3]).toBeCloseTo(1, 9);
        for (const [at, value] of boxTurned(turned, SIZE, to, from).entries()) expect(value).toBeCloseTo(box[at]!, 9);
      }),
    );
  });

  test('LK22: its middle stays on the same part of the scene', () => {
    // By hand: on a square of 1,000 px turned by 90°, what lay right of the middle lies under it.
    const [x, y] = middleOf(boxTurned([0.7, 0.4, 0.2, 0.2], { widthPx: 1000, heightPx: 1000 }, 0, 90));
    expect([x, y].map((one) => one.toFixed(6))).toEqual(['0.500000', '0.800000']);
    fc.assert(
      fc.property(deg, deg, (from, to) => {
        const mark: Box = [0.6, 0.4, 0, 0];
        const crop = middleOf(boxTurned([0.5, 0.3, 0.2, 0.2], SIZE, 0, from));
        expect(crop).toEqual(middleOf(boxLevelled(mark, SIZE, from)).map((one) => expect.closeTo(one, 9)));
        const again = boxTurned([crop[0] - 0.1, crop[1] - 0.1, 0.2, 0.2], SIZE, from, to);
        const wanted = middleOf(boxLevelled(mark, SIZE, to));
        expect(middleOf(again)).toEqual(wanted.map((one) => expect.closeTo(one, 9)));
      }),
    );
  });

  test('LK22: where the picture ends it is moved in and made smaller, of its shape still', () => {
    fc.assert(
      fc.property(bike, deg, deg, (box, from, to) => {
        const [left, top, width, height] = boxTurned(box, SIZE, from, to);
        expect(Math.min(left, top)).toBeGreaterThanOrEqual(0);
        expect(Math.max(left + width, top + height)).toBeLessThanOrEqual(1 + 1e-9);
        expect(width / height).toBeCloseTo(box[2] / box[3], 6);
      }),
    );
  });
});

test('headingOf: by where it went during its pass; a camera that follows leaves it untold', () => {
  const at = (ms: number, left: number) => ({ at: ms as EpochMs, box: [left, 0.4, 0.2, 0.2] as const });
  expect(headingOf([at(0, 0.2), at(200, 0.3), at(400, 0.4)])).toBe('right');
  expect(headingOf([at(0, 0.5), at(400, 0.3)])).toBe('left');
  expect(headingOf([at(0, 0.4), at(400, 0.41)])).toBeNull();
  expect(headingOf([at(0, 0.4)])).toBeNull();
});
