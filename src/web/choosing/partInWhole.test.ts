import { describe, expect, it } from 'vitest';
import { partInWhole } from './partInWhole.js';

const whole = { at: [0.2, 0.1, 0.5, 0.6] as const };
const share = (text: unknown): number => Number.parseFloat(String(text)) / 100;

describe('a part seen through a window over the whole', () => {
  it('CS10: the window shows exactly the part: its corners come to lie on the window’s', () => {
    for (const at of [
      [0.3, 0.2, 0.1, 0.15],
      [0.2, 0.1, 0.2, 0.3],
      [0.5, 0.4, 0.2, 0.3],
    ] as const) {
      const { inlineSize, blockSize, insetInlineStart, insetBlockStart } = partInWhole({ at }, whole)!;
      // In windows: where a place of the picture is drawn when the whole is that large and begins there.
      const drawnX = (x: number) => share(insetInlineStart) + (share(inlineSize) * (x - 0.2)) / 0.5;
      const drawnY = (y: number) => share(insetBlockStart) + (share(blockSize) * (y - 0.1)) / 0.6;
      expect(drawnX(at[0])).toBeCloseTo(0, 9);
      expect(drawnX(at[0] + at[2])).toBeCloseTo(1, 9);
      expect(drawnY(at[1])).toBeCloseTo(0, 9);
      expect(drawnY(at[1] + at[3])).toBeCloseTo(1, 9);
    }
  });

  it('CS10: what lies partly outside the whole is not shown by it', () => {
    for (const at of [
      [0.19, 0.2, 0.1, 0.1],
      [0.3, 0.05, 0.1, 0.1],
      [0.65, 0.2, 0.1, 0.1],
      [0.3, 0.65, 0.1, 0.1],
    ] as const)
      expect(partInWhole({ at }, whole)).toBeNull();
    expect(partInWhole({ at: [0.1999, 0.1, 0.1, 0.1] }, whole)).not.toBeNull();
  });
});
