import { describe, expect, test } from 'vitest';
import { reexposed, stopsOf } from '../numeric/cameraCurve.js';
import { codeOf } from '../numeric/colour.js';
import type { RgbImage } from './images.js';
import type { SubjectMask } from './maskSubject.js';
import { groundLight, measureLight } from './measureLight.js';
import type { Box } from './types.js';

const [WIDTH, HEIGHT] = [120, 80];
const BOX: Box = [0.3, 0.3, 0.4, 0.4];
type Light = readonly [number, number, number];
const TARMAC: Light = [0.1, 0.099, 0.097];
const GRASS: Light = [0.05, 0.09, 0.02];
const KERB: Light = [0.8, 0.78, 0.75];

/** Grass, and from the wheels down what is asked for; kerb in the lowest rows. */
function scene(ground: Light, gains: Light = [1, 1, 1]): RgbImage {
  const data = new Uint8Array(WIDTH * HEIGHT * 3);
  for (let at = 0; at < data.length; at += 1) {
    const y = Math.floor(at / 3 / WIDTH);
    const shown = y < 46 ? GRASS : y < 62 ? ground : KERB;
    data[at] = Math.round(255 * codeOf(reexposed(shown[(at % 3) as 0 | 1 | 2], gains[(at % 3) as 0 | 1 | 2])));
  }
  return { data, width: WIDTH, height: HEIGHT };
}

describe('groundLight', () => {
  const neutral = groundLight(scene(TARMAC), BOX)!;

  test('is of the tarmac, not of grass or kerb', () => {
    expect(Math.abs(neutral.stops - stopsOf(0.099))).toBeLessThan(0.1);
    expect(Math.abs(neutral.red)).toBeLessThan(0.1);
    expect(Math.abs(neutral.blue)).toBeLessThan(0.1);
  });

  test('follows exposure and tint of the light, stop for stop', () => {
    const other = groundLight(scene(TARMAC, [0.6, 0.5, 0.45]), BOX)!;
    expect(other.stops - neutral.stops).toBeCloseTo(-1, 0);
    expect(other.red - neutral.red).toBeCloseTo(Math.log2(0.6 / 0.5), 1);
    expect(other.blue - neutral.blue).toBeCloseTo(Math.log2(0.45 / 0.5), 1);
  });

  test('is absent where the ground is grass', () => {
    const data = scene(GRASS).data.map((_, at) => Math.round(255 * codeOf(GRASS[(at % 3) as 0 | 1 | 2])));
    expect(groundLight({ data, width: WIDTH, height: HEIGHT }, BOX)).toBeNull();
  });
});

test('a subject hardly seen says nothing of the light', () => {
  const image = scene(TARMAC);
  const mask: SubjectMask = {
    picture: image,
    rect: { left: 0, top: 0, right: WIDTH, bottom: HEIGHT },
    inside: new Float32Array(WIDTH * HEIGHT),
  };
  expect(measureLight(image, BOX, mask)).toBeNull();
  expect(measureLight(image, BOX, { ...mask, inside: mask.inside.fill(1) })?.ground).toBeDefined();
});
