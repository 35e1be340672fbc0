import { describe, expect, test } from 'vitest';
import type { RgbImage } from './images.js';
import { tellTilt } from './tellTilt.js';
import type { Box } from './types.js';

const [WIDTH, HEIGHT] = [480, 320];

interface Bar {
  readonly x: number;
  readonly from: number;
  readonly to: number;
  /** From upright, top to the right. */
  readonly deg: number;
  readonly widthPx: number;
}

/** Dark bars on a pale, slightly uneven ground, with soft edges. */
function drawn(bars: readonly Bar[]): RgbImage {
  const data = new Uint8Array(WIDTH * HEIGHT * 3);
  for (let y = 0, at = 0; y < HEIGHT; y += 1)
    for (let x = 0; x < WIDTH; x += 1, at += 3) {
      let value = 190 + ((x * 31 + y * 17) % 5);
      for (const { x: middle, from, to, deg, widthPx } of bars) {
        if (y < from || y > to) continue;
        const own = middle - (y - (from + to) / 2) * Math.tan((deg * Math.PI) / 180);
        const cover = Math.min(1, Math.max(0, widthPx / 2 + 0.5 - Math.abs(x + 0.5 - own)));
        value -= cover * 120;
      }
      data.fill(Math.round(value), at, at + 3);
    }
  return { data, width: WIDTH, height: HEIGHT };
}

const posts = (deg: number, count = 6): readonly Bar[] =>
  Array.from({ length: count }, (_, index) => ({ x: 40 + index * 78, from: 30, to: 110, deg, widthPx: 5 }));

describe('tellTilt', () => {
  test.each([-2.4, -0.9, 0, 0.6, 1.7, 3.1])('LK16: posts that all lean by %s° say so', (deg) => {
    const tilt = tellTilt(drawn(posts(deg)), []);
    expect(tilt.kind).toBe('told');
    if (tilt.kind === 'told') expect(Math.abs(tilt.turnDeg + deg)).toBeLessThan(0.15);
  });

  test('LK17: a leaning bike is no tilted horizon', () => {
    const bike: Box = [0.35, 0.4, 0.3, 0.5];
    const frame = [-3, -1.5, 0, 1, 2].map((offset, index) => ({
      x: 190 + index * 22,
      from: 140,
      to: 270,
      deg: 3.2 + offset / 10,
      widthPx: 6,
    }));
    expect(tellTilt(drawn(frame), [bike]).kind).toBe('unsure');
    const tilt = tellTilt(drawn([...frame, ...posts(0.5)]), [bike]);
    expect(tilt.kind === 'told' && Math.abs(tilt.turnDeg + 0.5) < 0.15).toBe(true);
  });

  test('LK16: two posts, posts that disagree, and lines that lie say nothing', () => {
    expect(tellTilt(drawn(posts(1.2, 2)), [])).toEqual({ kind: 'unsure', why: 'no-uprights' });
    const leaning = posts(0).map((post, index) => ({ ...post, deg: [-3.5, 3.4, -2, 2.8, 0.4, -1.1][index]! }));
    expect(tellTilt(drawn(leaning), [])).toEqual({ kind: 'unsure', why: 'uprights-disagree' });
    const kerb = drawn([]);
    for (let x = 0; x < WIDTH; x += 1)
      for (let y = 200 + Math.round(x * 0.05); y < 212 + Math.round(x * 0.05); y += 1)
        kerb.data.fill(40, 3 * (y * WIDTH + x), 3 * (y * WIDTH + x) + 3);
    expect(tellTilt(kerb, []).kind).toBe('unsure');
  });
});
