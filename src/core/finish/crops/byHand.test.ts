import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Box } from '../../measure/types.js';
import { RATIOS, type Ratio } from '../finishes/types.js';
import { cropMoved, cropSized, cutsInto, largestCrop } from './index.js';

const ASPECT = 1.5;
const SHAPE: Readonly<Record<Ratio, number>> = { '3:2': 1.5, '4:5': 0.8, '1:1': 1, '16:9': 16 / 9 };
const shapeOf = ([, , width, height]: Box): number => (ASPECT * width) / height;

/** What a hand may do, one after the other. */
const deed = fc.oneof(
  fc.record({ right: fc.double({ min: -1, max: 1, noNaN: true }), down: fc.double({ min: -1, max: 1, noNaN: true }) }),
  fc.record({ factor: fc.double({ min: 0.2, max: 5, noNaN: true }) }),
);

test('LK19: whatever a hand does to it, a crop keeps its shape and stays in the picture', () => {
  fc.assert(
    fc.property(fc.constantFrom(...RATIOS), fc.array(deed, { maxLength: 30 }), (ratio, deeds) => {
      const box = deeds.reduce<Box>(
        (now, one) => ('factor' in one ? cropSized(now, one.factor) : cropMoved(now, one.right, one.down)),
        largestCrop(ratio, ASPECT),
      );
      const [left, top, width, height] = box;
      expect(shapeOf(box)).toBeCloseTo(SHAPE[ratio], 6);
      expect(Math.min(left, top)).toBeGreaterThanOrEqual(0);
      expect(Math.max(left + width, top + height)).toBeLessThanOrEqual(1 + 1e-9);
      expect(Math.min(width, height)).toBeGreaterThanOrEqual(0.1 - 1e-9);
    }),
  );
});

test('LK19: moved within the picture it goes as far as the hand; closer and wider again is where it was', () => {
  expect(cropMoved([0.25, 0.25, 0.5, 0.5], 0.125, -0.125)).toEqual([0.375, 0.125, 0.5, 0.5]);
  const back = cropSized(cropSized([0.3, 0.2, 0.5, 0.5], 0.8), 1.25);
  for (const [at, value] of [0.3, 0.2, 0.5, 0.5].entries()) expect(back[at]).toBeCloseTo(value, 9);
});

test('the largest crop touches two sides', () => {
  expect(largestCrop('3:2', ASPECT)).toEqual([0, 0, 1, 1]);
  const [left, top, width, height] = largestCrop('1:1', ASPECT);
  expect([top, height]).toEqual([0, 1]);
  expect(2 * left + width).toBeCloseTo(1, 9);
});

test('LK19: a crop that leaves out a part of a bike is told, one that touches it is not', () => {
  const bikes: readonly Box[] = [[0.4, 0.4, 0.2, 0.2]];
  expect(cutsInto([0.4, 0.4, 0.2, 0.2], bikes)).toBe(false);
  expect(cutsInto([0.41, 0.3, 0.5, 0.5], bikes)).toBe(true);
  expect(cutsInto([0.3, 0.3, 0.5, 0.29], bikes)).toBe(true);
  expect(cutsInto([0.7, 0.7, 0.2, 0.2], [])).toBe(false);
});
