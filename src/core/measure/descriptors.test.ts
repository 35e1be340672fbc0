import { describe, expect, it } from 'vitest';
import { dot } from '../numeric/linalg.js';
import { base64Of, codesOf, describeBike, descriptorParts, normalise } from './describeBike.js';
import { describeScene, sceneVector } from './describeScene.js';
import { drawRgb, grain, type Rgb } from './drawnPictures.js';
import type { RgbImage } from './images.js';
import { maskSubject } from './maskSubject.js';
import { scoreDivider } from './scoreDivider.js';
import { centredByPlace, fitDescriptorWhitening, fitWhitening } from './whitenDescriptors.js';

const speckled = (rgb: Rgb, x: number, y: number, seed: number): Rgb => {
  const factor = 0.9 + 0.2 * grain(x, y, seed);
  const [red, green, blue] = rgb.map((value) => Math.min(255, Math.round(value * factor)));
  return [red!, green!, blue!];
};

const box = [0.25, 0.25, 0.5, 0.5] as const;
const subject = { what: 'motorcycle', box, bikeBox: box, score: 1, isCut: false } as const;

/** A two-coloured ellipse on tarmac. */
const drawBike = (upper: Rgb, lower: Rgb, seed: number): RgbImage =>
  drawRgb(160, 120, (x, y) => {
    const isBike = ((x - 80) / 38) ** 2 + ((y - 60) / 28) ** 2 < 1;
    return speckled(isBike ? (y < 60 ? upper : lower) : [110, 110, 112], x, y, seed);
  });

const features = (seed: number) => ({
  taught: Float32Array.from({ length: 96 }, (_, index) => grain(index, seed, 3) - 0.5),
  block9: Float32Array.from({ length: 192 }, (_, index) => grain(index, seed)),
  block13: Float32Array.from({ length: 1728 }, (_, index) => grain(index, seed, 2)),
});

describe('base64', () => {
  // RFC 4648 §10, as bytes.
  it.each([
    ['', ''],
    ['f', 'Zg=='],
    ['fo', 'Zm8='],
    ['foo', 'Zm9v'],
    ['foobar', 'Zm9vYmFy'],
  ])('of "%s" is the RFC’s', (text, encoded) => {
    const codes = Int8Array.from(text, (letter) => letter.charCodeAt(0));
    expect(base64Of(codes)).toBe(encoded);
    expect([...codesOf(encoded)]).toEqual([...codes]);
  });

  it('keeps negative values', () => {
    const codes = Int8Array.of(-127, -1, 0, 1, 127);
    expect([...codesOf(base64Of(codes))]).toEqual([...codes]);
  });
});

describe('the same-bike descriptor', () => {
  const mask = maskSubject(drawBike([200, 30, 30], [240, 240, 238], 1), subject);

  it('is at most 1 KB, and its parts come back as unit vectors', () => {
    const text = describeBike(mask, features(1));
    expect(codesOf(text).length).toBeLessThanOrEqual(1024);
    const { lab, taught, block9, block13 } = descriptorParts(text);
    for (const part of [lab, taught!, block9!, block13!]) expect(dot(part, part)).toBeCloseTo(1, 5);
    expect(dot(taught!, normalise(features(1).taught))).toBeGreaterThan(0.999);
    expect(dot(block9!, normalise(features(1).block9))).toBeGreaterThan(0.999);
  });

  it('has only colours where no features were computed', () => {
    const parts = descriptorParts(describeBike(mask));
    expect(parts.lab).toHaveLength(400);
    expect(parts.taught).toBeUndefined();
  });

  it('is nearer to the same livery in another frame than to another livery, and knows top from bottom', () => {
    const lab = (upper: Rgb, lower: Rgb, seed: number) =>
      descriptorParts(describeBike(maskSubject(drawBike(upper, lower, seed), subject))).lab;
    const red = lab([200, 30, 30], [240, 240, 238], 1);
    const again = lab([190, 28, 30], [232, 233, 230], 2);
    const blue = lab([30, 60, 190], [240, 240, 238], 3);
    const turned = lab([240, 240, 238], [200, 30, 30], 4);
    expect(dot(red, again)).toBeGreaterThan(0.9);
    expect(dot(red, blue)).toBeLessThan(dot(red, again) - 0.1);
    expect(dot(red, turned)).toBeLessThan(dot(red, again) - 0.1);
  });

  it('has bands that follow the subject and not the picture about it', () => {
    // The same ellipse with the lower third of the picture, which is tarmac, cut off.
    const whole = drawBike([200, 30, 30], [30, 60, 190], 1);
    const cut = { ...whole, height: 92, data: whole.data.subarray(0, 3 * 160 * 92) };
    const lower = [0.25, (0.25 * 120) / 92, 0.5, (0.5 * 120) / 92] as const;
    const labOf = (image: RgbImage, where: typeof lower | typeof box) =>
      descriptorParts(describeBike(maskSubject(image, { ...subject, box: where, bikeBox: where }))).lab;
    expect(dot(labOf(whole, box), labOf(cut, lower))).toBeGreaterThan(0.97);
  });

  it('says what is wrong with a text that is none', () => {
    expect(() => descriptorParts('AAAA')).toThrow(
      'Expected a descriptor of 400 or 1008 bytes but got 3; measure the frame again.',
    );
  });

  it('keeps likeness through the projection', () => {
    const like = features(5).block13;
    const near = like.map((value, index) => value + 0.1 * grain(index, 9, 4));
    const other = features(6).block13.map((value) => value - 0.5);
    const part = (block13: Float32Array) => descriptorParts(describeBike(mask, { ...features(1), block13 })).block13!;
    expect(dot(part(like), part(near))).toBeCloseTo(dot(normalise(like), normalise(near)), 1);
    expect(Math.abs(dot(part(like), part(other)) - dot(normalise(like), normalise(other)))).toBeLessThan(0.15);
  });
});

describe('whitening', () => {
  it('takes out what all share and brings out what few differ in', () => {
    // Every vector: a large common part, a varying nuisance, and a small mark of one of two bikes.
    const vectorOf = (bike: 0 | 1, frame: number) =>
      Float32Array.of(
        10,
        3 * (grain(frame, 1) - 0.5),
        0.3 * (bike === 0 ? 1 : -1) + 0.02 * grain(frame, 2),
        0.01 * grain(frame, 3),
      );
    const samples = Array.from({ length: 80 }, (_, frame) => vectorOf(frame % 2 === 0 ? 0 : 1, frame));
    const whiten = fitWhitening(samples, 3);
    const raw = (a: Float32Array, b: Float32Array) => dot(normalise(a), normalise(b));
    const [a, again, other] = [vectorOf(0, 100), vectorOf(0, 101), vectorOf(1, 102)];
    expect(raw(a, other)).toBeGreaterThan(0.95);
    expect(dot(whiten(a), whiten(again))).toBeGreaterThan(dot(whiten(a), whiten(other)));
    expect(dot(whiten(a), whiten(other))).toBeLessThan(0);
  });

  it('takes away what all of one place share, the more the more were seen there', () => {
    const at = (light: number, bike: number) => normalise(Float32Array.of(light, bike, 1));
    const place = (light: number) => Array.from({ length: 400 }, (_, index) => at(light, index % 2 === 0 ? 0.2 : -0.2));
    const vectors = [...place(2), ...place(-2)];
    const centred = centredByPlace(
      vectors,
      vectors.map((_, index) => (index < 400 ? 'sun' : 'shade')),
    );
    // The same bike at the two places, and another at the same place.
    expect(dot(vectors[0]!, vectors[400]!)).toBeLessThan(0);
    expect(dot(vectors[0]!, vectors[1]!)).toBeGreaterThan(0.9);
    expect(dot(centred[0]!, centred[400]!)).toBeGreaterThan(0);
    expect(dot(centred[0]!, centred[1]!)).toBeLessThan(dot(centred[0]!, centred[400]!));
  });

  it('joins the parts of descriptors into one unit vector, and does without features where there are none', () => {
    const masks = [1, 2, 3, 4].map((seed) =>
      maskSubject(drawBike([40 * seed, 60, 200 - 40 * seed], [30, 30, 30], seed), subject),
    );
    const all = masks.map((mask, index) => descriptorParts(describeBike(mask, features(index + 1))));
    const whiten = fitDescriptorWhitening(all);
    const vector = whiten(all[0]!);
    expect(dot(vector, vector)).toBeCloseTo(1, 5);
    const bare = fitDescriptorWhitening(masks.map((mask) => descriptorParts(describeBike(mask))));
    expect(bare(descriptorParts(describeBike(masks[1]!))).length).toBe(3);
  });
});

describe('scenes', () => {
  const scene = (upper: Rgb, lower: Rgb, seed: number) =>
    drawRgb(96, 64, (x, y) => speckled(y < 24 ? upper : lower, x, y, seed));

  it('of one spot are nearer to each other than to another spot’s', () => {
    const first = sceneVector(describeScene(scene([90, 130, 60], [110, 110, 112], 1), [], 400));
    const panned = sceneVector(describeScene(scene([88, 128, 62], [112, 110, 110], 2), [], 400));
    const other = sceneVector(describeScene(scene([170, 190, 220], [150, 130, 100], 3), [], 150));
    expect(dot(first, panned)).toBeGreaterThan(0.95);
    expect(dot(first, other)).toBeLessThan(0.7);
  });

  it('do not change with the bike that stands in them', () => {
    const empty = scene([90, 130, 60], [110, 110, 112], 1);
    const bikeBox = [0.3, 0.3, 0.3, 0.4] as const;
    const withBike = drawRgb(96, 64, (x, y) => {
      const isBike = x > 0.3 * 96 && x < 0.6 * 96 && y > 0.3 * 64 && y < 0.7 * 64;
      const at = 3 * (y * 96 + x);
      return isBike ? [220, 20, 20] : [empty.data[at]!, empty.data[at + 1]!, empty.data[at + 2]!];
    });
    const a = sceneVector(describeScene(empty, [], 400));
    const b = sceneVector(describeScene(withBike, [bikeBox], 400));
    expect(dot(a, b)).toBeGreaterThan(0.98);
  });
});

describe('dividers', () => {
  const plain = (rgb: Rgb) => drawRgb(96, 64, (x, y) => speckled(rgb, x, y, 5));
  const track = drawRgb(96, 64, (x, y) =>
    speckled(y < 20 ? [190, 205, 230] : y < 34 ? [80, 120, 50] : [95, 95, 97], x, y, 5),
  );

  it.each([
    ['sky', [150, 190, 235]],
    ['tarmac', [105, 104, 103]],
    ['grass', [85, 125, 55]],
    ['a hand over the lens', [60, 35, 28]],
  ] as const)('are frames of %s', (_, rgb) => {
    expect(scoreDivider(plain(rgb), 0)).toBeGreaterThan(0.8);
  });

  it('are not the empty track with its verge and sky, nor anything with a bike in it', () => {
    expect(scoreDivider(track, 0)).toBeLessThan(0.5);
    expect(scoreDivider(plain([105, 104, 103]), 0.8)).toBe(0);
  });
});
