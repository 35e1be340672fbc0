import { describe, expect, it } from 'vitest';
import { seededRandom } from '../numeric/random.js';
import { epochMsOf } from '../units.js';
import { type SmallFrame, tellSide } from './tellSide.js';

const [WIDTH, HEIGHT, WORLD] = [96, 64, 600];

/** Blocks that never repeat, wider than any picture. */
const random = seededRandom(17);
const world = Array.from({ length: WORLD * 4 }, () => random.integer(0, 255));
const fence = Array.from({ length: WORLD * 4 }, (_, k) => (k % 2) * 200);

interface Wish {
  /** By how many pixels what is behind moves to the right from frame to frame. */
  readonly shifts: readonly number[];
  readonly betweenMs?: number;
  readonly behind?: readonly number[];
  /** Where the bike's middle is, share of the width. */
  readonly bikeAt?: readonly number[];
}

function burst({ shifts, betweenMs = 50, behind = world, bikeAt = [0.5, 0.5, 0.5] }: Wish): readonly SmallFrame[] {
  return [0, ...shifts].map((_, k, all): SmallFrame => {
    const moved = all.slice(1, k + 1).reduce((sum, shift) => sum + shift, 0);
    const box = [bikeAt[k]! - 0.15, 0.3, 0.3, 0.5] as const;
    const data = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, at) => {
      const [x, y] = [at % WIDTH, Math.floor(at / WIDTH)];
      const isBike = Math.abs(x / WIDTH - bikeAt[k]!) < 0.15 && y / HEIGHT > 0.3 && y / HEIGHT < 0.8;
      return isBike ? 90 : behind[Math.floor((250 + x - moved) / 3) * 4 + Math.floor(y / 16)]!;
    });
    return { at: epochMsOf(1000 + k * betweenMs), picture: { data, width: WIDTH, height: HEIGHT }, box, boxes: [box] };
  });
}

describe('the side that is seen', () => {
  it('JU20: what is behind moves against the bike: to the right where it heads left, and its left side is seen', () => {
    expect(tellSide(burst({ shifts: [24, 26] }))).toEqual({ kind: 'told', is: 'left', confidence: 0.9 });
    expect(tellSide(burst({ shifts: [-40, -38] }))).toMatchObject({ is: 'right' });
  });

  it('JU20: a camera that stands still sees the bike itself move', () => {
    expect(tellSide(burst({ shifts: [0, 0], bikeAt: [0.4, 0.5, 0.6] }))).toMatchObject({ is: 'right' });
  });

  it('JU20: two steps that disagree, a fence that repeats, a bike that stands: nothing is said', () => {
    const notClear = { kind: 'absent', reason: 'not-clear' };
    expect(tellSide(burst({ shifts: [24, -24] }))).toEqual(notClear);
    expect(tellSide(burst({ shifts: [24, 60] }))).toEqual(notClear);
    expect(tellSide(burst({ shifts: [0, 0] }))).toEqual(notClear);
    expect(tellSide(burst({ shifts: [13, 13], behind: fence }))).toEqual(notClear);
  });

  it('JU20: a slow burst, and fewer than three frames, say nothing', () => {
    const noBurst = { kind: 'absent', reason: 'no-burst' };
    expect(tellSide(burst({ shifts: [24, 26], betweenMs: 125 }))).toEqual(noBurst);
    expect(tellSide(burst({ shifts: [24, 26], betweenMs: 0 }))).toEqual(noBurst);
    expect(tellSide(burst({ shifts: [24] }))).toEqual(noBurst);
    expect(tellSide([])).toEqual(noBurst);
  });
});
