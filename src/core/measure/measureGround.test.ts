import { describe, expect, it } from 'vitest';
import { seededRandom } from '../numeric/random.js';
import { measureGround } from './measureGround.js';
import type { Box } from './types.js';

const width = 480;
const height = 320;
/** Wheels stand at row 224. */
const bike: Box = [0.35, 0.4, 0.3, 0.3];
const WHEELS_ROW = 224;
const HORIZON_ROW = 90;

/**
 * Grain, then each row blurred up and down as a thin lens does: with |1/focus − 1/distance|, and on level ground 1/distance grows
 * evenly with the row under the horizon. `panPx`: smeared along the way, as where the camera follows.
 */
function ground(focusRow: number, { panPx = 0, contrast = 60, seed = 4 } = {}) {
  const random = seededRandom(seed);
  const grain = Float64Array.from({ length: width * height }, () => 120 + contrast * random.between(-1, 1));
  const smeared = panPx === 0 ? grain : averaged(grain, () => panPx, 1, width);
  const blurred = averaged(smeared, (at) => Math.abs(Math.floor(at / width) - focusRow) / 25, width, height);
  const data = new Uint8Array(3 * width * height);
  for (let at = 0; at < width * height; at += 1)
    data.fill(Math.max(0, Math.min(255, Math.round(blurred[at]! + random.normal()))), 3 * at, 3 * at + 3);
  return { data, width, height };
}

/** Means over a reach either side along a step; part of a pixel counts in part. */
function averaged(values: Float64Array, reachOf: (at: number) => number, step: number, size: number): Float64Array {
  return values.map((value, at) => {
    const place = step === 1 ? at % width : Math.floor(at / width);
    const reach = reachOf(at);
    let [sum, weights] = [value, 1];
    for (let by = 1; by <= Math.ceil(reach); by += 1) {
      const weight = Math.min(1, reach - by + 1);
      if (place - by >= 0) [sum, weights] = [sum + weight * values[at - by * step]!, weights + weight];
      if (place + by < size) [sum, weights] = [sum + weight * values[at + by * step]!, weights + weight];
    }
    return sum / weights;
  });
}

const leanOf = (focusRow: number, how = {}): number => {
  const { before, behind } = measureGround(ground(focusRow, how), bike)!;
  return Math.log(before / behind);
};

describe('the ground before and behind a bike', () => {
  it('PL815: the nearer ground is sharper the nearer the focus fell, still or panned', () => {
    for (const how of [{}, { panPx: 6, contrast: 120 }]) {
      const on = leanOf(WHEELS_ROW, how);
      expect(leanOf(WHEELS_ROW + 26, how) - on).toBeGreaterThan(0.5);
      expect(on - leanOf(WHEELS_ROW - 24, how)).toBeGreaterThan(0.5);
      // Far out of focus both strips are soft, and the side still shows.
      expect(leanOf(WHEELS_ROW + 50, how)).toBeGreaterThan(on);
      expect(leanOf(HORIZON_ROW + 80, how)).toBeLessThan(on);
    }
  });

  it('PL815: it hangs on neither light nor contrast', () => {
    expect(Math.abs(leanOf(WHEELS_ROW) - leanOf(WHEELS_ROW, { contrast: 30 }))).toBeLessThan(0.15);
  });

  it('PL815: no ground in the picture, or none with any structure, is no measurement', () => {
    expect(measureGround(ground(WHEELS_ROW), [0.35, 0.7, 0.3, 0.3])).toBeNull();
    expect(measureGround(ground(WHEELS_ROW, { contrast: 0 }), bike)).toBeNull();
  });
});
