import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Box } from '../measure/types.js';
import { cropAround, partSquares } from './closeCrops.js';
import type { Judged } from './types.js';

const SIZE = { width: 6000, height: 4000 };
const withAreas = (helmet: Box, number: Box): Judged =>
  ({
    focus: {
      kind: 'focus',
      areas: [
        { what: 'helmet', box: helmet, edgePx: 1.5 },
        { what: 'number', box: number },
      ],
    },
    side: { kind: 'absent', reason: 'no-burst' },
  }) as unknown as Judged;

it('JU17: squares around parts take the same share of every bike, so that shown equally large they are at one scale', () => {
  const near = partSquares(
    [0.3, 0.2, 0.4, 0.5],
    withAreas([0.45, 0.2, 0.1, 0.12], [0.35, 0.5, 0.05, 0.05]),
    SIZE,
    null,
  );
  const far = partSquares(
    [0.4, 0.4, 0.2, 0.25],
    withAreas([0.47, 0.4, 0.05, 0.06], [0.42, 0.55, 0.02, 0.03]),
    SIZE,
    null,
  );
  const side = ({ rect }: (typeof near)[number]): number => rect.right - rect.left;
  expect(near.map(({ what, edgePx }) => [what, edgePx])).toEqual([
    ['helmet', 1.5],
    ['number', null],
  ]);
  expect(near.map(side)).toEqual([720, 720]);
  expect(far.map(side)).toEqual([360, 360]);
});

it('JU17: wherever a part lies, its square lies inside the crop around the bike', () => {
  const share = fc.double({ min: 0.02, max: 0.95, noNaN: true });
  fc.assert(
    fc.property(share, share, share, share, share, share, (x, y, w, h, u, v) => {
      const box: Box = [x * (1 - 0.05), y * (1 - 0.05), Math.max(0.02, w * (1 - x)), Math.max(0.02, h * (1 - y))];
      const area: Box = [box[0] + u * box[2], box[1] + v * box[3], 0.2 * box[2], 0.1 * box[3]];
      const whole = cropAround(box, SIZE);
      for (const { rect } of partSquares(box, withAreas(area, area), SIZE, 'left')) {
        expect(rect.left).toBeGreaterThanOrEqual(whole.left);
        expect(rect.top).toBeGreaterThanOrEqual(whole.top);
        expect(rect.right).toBeLessThanOrEqual(whole.right);
        expect(rect.bottom).toBeLessThanOrEqual(whole.bottom);
        expect(rect.right).toBeGreaterThan(rect.left);
        expect(rect.bottom).toBeGreaterThan(rect.top);
      }
    }),
  );
});

it('JU17: the tail is at the end away from where the bike heads; without a drawing of the circuit none is cut', () => {
  const box: Box = [0.2, 0.2, 0.6, 0.5];
  const judged = withAreas([0.45, 0.2, 0.1, 0.12], [0.35, 0.5, 0.05, 0.05]);
  const tailOf = (heads: 'left' | 'right' | null) =>
    partSquares(box, judged, SIZE, heads).find(({ what }) => what === 'tail')?.rect;
  const middle = 0.5 * SIZE.width;
  expect(tailOf('right')!.right).toBeLessThan(middle);
  expect(tailOf('left')!.left).toBeGreaterThan(middle);
  expect(tailOf(null)).toBeUndefined();
});
