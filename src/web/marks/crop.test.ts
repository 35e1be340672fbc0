import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Box } from '../../core/measure/types.js';
import { cropOf } from './crop.js';

const boxes = fc
  .tuple(
    fc.double({ min: 0, max: 0.9, noNaN: true }),
    fc.double({ min: 0, max: 0.9, noNaN: true }),
    fc.double({ min: 0.02, max: 1, noNaN: true }),
    fc.double({ min: 0.02, max: 1, noNaN: true }),
  )
  .map(([left, top, width, height]): Box => [left, top, Math.min(width, 1 - left), Math.min(height, 1 - top)]);

describe('the crop of a picture', () => {
  it('DK40: it has the place’s shape and stays inside the image', () => {
    fc.assert(
      fc.property(boxes, fc.constantFrom(1.5, 0.667, 1.777), fc.constantFrom(1.5, 1, 2), (box, aspect, shape) => {
        const crop = cropOf(box, aspect, shape);
        expect((crop.width * aspect) / crop.height).toBeCloseTo(shape, 6);
        expect(crop.left).toBeGreaterThanOrEqual(0);
        expect(crop.top).toBeGreaterThanOrEqual(-1e-9);
        expect(crop.left + crop.width).toBeLessThanOrEqual(1 + 1e-9);
        expect(crop.top + crop.height).toBeLessThanOrEqual(1 + 1e-9);
      }),
    );
  });

  it('DK41: a bike that fits is wholly inside it', () => {
    const [left, top, width, height]: Box = [0.3, 0.4, 0.3, 0.25];
    const crop = cropOf([left, top, width, height], 1.5, 1.5);
    expect(crop.left).toBeLessThan(left);
    expect(crop.left + crop.width).toBeGreaterThan(left + width);
    expect(crop.top).toBeLessThan(top);
    expect(crop.top + crop.height).toBeGreaterThan(top + height);
  });

  it('DK42: without a box the middle of the image is shown', () => {
    expect(cropOf(null, 1.5, 1.5)).toEqual({ left: 0, top: 0, width: 1, height: 1 });
    expect(cropOf(null, 1.5, 1).left).toBeCloseTo(1 / 6);
  });
});
