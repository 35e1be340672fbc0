import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { labOfRgb, lchOfLab } from '../../numeric/colour.js';
import { ciede2000 } from '../../numeric/colourDifference.js';
import { seededRandom } from '../../numeric/random.js';
import { evenStrengths } from './finishes.js';
import { colourChanger, FIRST_FINISH, lookOf, PLAIN_LOOK, quieten, sharpen } from './index.js';
import { toned } from './tones.js';

const change = (bytes: readonly number[], look = PLAIN_LOOK): Uint8Array => {
  const pixels = Uint8Array.from(bytes);
  colourChanger(look)(pixels);
  return pixels;
};
const tones = fc.record({
  contrast: fc.double({ min: 0.7, max: 1.5, noNaN: true }),
  brightParts: fc.double({ min: 0, max: 0.5, noNaN: true }),
  shade: fc.double({ min: 0, max: 1, noNaN: true }),
});

describe('tones', () => {
  test('LK7: black stays black, white stays white, and the curve never falls', () => {
    fc.assert(
      fc.property(tones, fc.double({ min: 0, max: 1, noNaN: true }), (curve, luminance) => {
        expect(toned(0, curve)).toBeCloseTo(0, 9);
        expect(toned(1, curve)).toBeCloseTo(1, 9);
        expect(toned(Math.min(1, luminance + 0.01), curve)).toBeGreaterThanOrEqual(toned(luminance, curve) - 1e-9);
      }),
    );
  });

  test('LK7: lifting the shaded side leaves the deepest shadows where they are', () => {
    const lifted = { contrast: 1, brightParts: 0, shade: 0.5 };
    // L* 5 and L* 30.
    expect(toned(0.0055, lifted) / 0.0055).toBeLessThan(1.06);
    expect(toned(0.0623, lifted) / 0.0623).toBeGreaterThan(1.38);
  });
});

describe('colours', () => {
  test('LK1: a plain look changes no byte', () => {
    const bytes = Array.from({ length: 768 }, (_, index) => (index * 37) % 256);
    expect([...change(bytes)]).toEqual(bytes);
  });

  test('greys stay grey under tones and even strengths', () => {
    const greys = Array.from({ length: 256 }, (_, value) => [value, value, value]).flat();
    const out = change(greys, { ...lookOf(FIRST_FINISH), strengths: evenStrengths(1.3) });
    for (let at = 0; at < out.length; at += 3) {
      expect(Math.abs(out[at]! - out[at + 1]!)).toBeLessThanOrEqual(1);
      expect(Math.abs(out[at + 1]! - out[at + 2]!)).toBeLessThanOrEqual(1);
    }
  });

  test('LK8: a strength of one hue changes that hue, and hardly its opposite', () => {
    const greener = { ...PLAIN_LOOK, strengths: { ...PLAIN_LOOK.strengths, green: 0.6 } };
    const [grass, kerb] = [[92, 128, 58] as const, [170, 40, 48] as const];
    const chroma = (bytes: Uint8Array): number => lchOfLab(labOfRgb(bytes[0]!, bytes[1]!, bytes[2]!))[1];
    expect(chroma(change(grass, greener)) / chroma(Uint8Array.from(grass))).toBeLessThan(0.8);
    const red = change(kerb, greener);
    expect(ciede2000(labOfRgb(...kerb), labOfRgb(red[0]!, red[1]!, red[2]!))).toBeLessThan(0.5);
  });

  test('lifted shade keeps hue', () => {
    const lifted = { ...PLAIN_LOOK, tones: { contrast: 1, brightParts: 0, shade: 0.6 } };
    for (const colour of [
      [90, 24, 28],
      [30, 60, 110],
      [60, 80, 30],
    ] as const) {
      const out = change(colour, lifted);
      const hueOf = ([red, green, blue]: ArrayLike<number> & Iterable<number>): number =>
        lchOfLab(labOfRgb(red!, green!, blue!))[2];
      expect(Math.abs(hueOf(out) - hueOf(colour))).toBeLessThan(3);
    }
  });
});

describe('grain and edges', () => {
  const [width, height] = [96, 64];
  const clean = Uint8Array.from({ length: width * height * 3 }, (_, at) =>
    Math.floor(at / 3) % width < 48 ? 70 : 160,
  );
  const random = seededRandom(9);
  const noisy = clean.map((value) => value + Math.round(18 * (random.next() + random.next() - 1)));
  const errorOf = (pixels: Uint8Array): number =>
    pixels.reduce((sum, value, at) => sum + (value - clean[at]!) ** 2, 0) / pixels.length;

  test('LK9: grain goes and the edge stays', () => {
    const quiet = noisy.slice();
    quieten(quiet, width, height, 1);
    expect(errorOf(quiet)).toBeLessThan(0.4 * errorOf(noisy));
    const acrossEdge = (pixels: Uint8Array): number => pixels[3 * (30 * width + 50)]! - pixels[3 * (30 * width + 45)]!;
    expect(acrossEdge(quiet)).toBeGreaterThan(75);
  });

  test('LK9: sharpening makes an edge steeper, leaves even parts alone and holds its rim down', () => {
    const soft = clean.map((value, at) => {
      const x = Math.floor(at / 3) % width;
      return x === 47 ? 95 : x === 48 ? 135 : value;
    });
    const sharp = soft.slice();
    sharpen(sharp, width, height, 1);
    const at = (x: number): number => 3 * (30 * width + x);
    expect(sharp[at(48)]! - sharp[at(47)]!).toBeGreaterThanOrEqual(soft[at(48)]! - soft[at(47)]!);
    expect(sharp[at(20)]).toBe(soft[at(20)]);
    expect(Math.abs(sharp[at(49)]! - soft[at(49)]!)).toBeLessThanOrEqual(28);
  });
});
