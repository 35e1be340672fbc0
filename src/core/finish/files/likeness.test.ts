import { describe, expect, it } from 'vitest';
import { halved, likeness, outlinesOf, type SmallGrey } from './likeness.js';

/** Smooth hills and valleys, others for every seed. */
function scene(seed: number, width: number, height: number, [left, top, share] = [0, 0, 1]): SmallGrey {
  const data = new Uint8Array(width * height);
  for (let row = 0; row < height; row += 1)
    for (let column = 0; column < width; column += 1) {
      const [x, y] = [left! + (share! * column) / width, top! + (share! * row) / height];
      let value = 0;
      for (let wave = 1; wave <= 9; wave += 1)
        value +=
          Math.sin(wave * seed * 1.7 + x * ((wave * seed) % 23) * 1.6 + y * ((wave * (seed + 5)) % 19) * 1.4) / 3;
      data[row * width + column] = Math.min(255, Math.max(0, 128 + 60 * value));
    }
  return { width, height, data };
}
const toned = (picture: SmallGrey): SmallGrey => ({
  ...picture,
  data: picture.data.map((value) => Math.round(255 * (value / 255) ** 0.6 * 0.9 + 10)),
});

describe('likeness', () => {
  const frame = outlinesOf(scene(7, 64, 43));

  it('FI14: finds the same picture whatever its size and tones, and another one unlike', () => {
    expect(likeness(frame, scene(7, 128, 86))).toBeGreaterThan(0.85);
    expect(likeness(frame, toned(scene(7, 128, 86)))).toBeGreaterThan(0.8);
    for (const seed of [3, 11, 18]) expect(likeness(frame, scene(seed, 128, 86)), `${seed}`).toBeLessThan(0.6);
  });

  it('FI14: finds a part of it, upright or wide', () => {
    expect(likeness(frame, scene(7, 128, 86, [0.2, 0.1, 0.7]))).toBeGreaterThan(0.8);
    const rough = outlinesOf(halved(scene(7, 64, 43)));
    const cut = scene(7, 128, 86, [0.2, 0.1, 0.7]);
    for (const seed of [3, 11, 18])
      expect(likeness(rough, cut), `${seed}`).toBeGreaterThan(likeness(outlinesOf(halved(scene(seed, 64, 43))), cut));
  });

  it('FI14: is like nothing where nothing is to be seen', () => {
    const flat: SmallGrey = { width: 128, height: 86, data: new Uint8Array(128 * 86).fill(90) };
    expect(likeness(frame, flat)).toBe(0);
    expect(likeness(outlinesOf({ ...flat, width: 64, height: 43, data: flat.data.subarray(0, 64 * 43) }), flat)).toBe(
      0,
    );
  });
});
