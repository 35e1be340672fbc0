import { describe, expect, it } from 'vitest';
import type { FrameId } from '../../ids.js';
import { type Random, seededRandom } from '../../numeric/random.js';
import type { GreyImage } from '../images.js';
import { findDust } from './findDust.js';
import type { DustFrame, DustSpot } from './types.js';

const width = 240;
const height = 180;

/** A sky: light falls off across it, with noise of two values in 255, and its own soft cloud. */
function sky(random: Random): number[] {
  const [slope, cloudX, cloudY] = [random.between(-30, 30), random.between(0, width), random.between(0, height)];
  return Array.from({ length: width * height }, (_, at) => {
    const [x, y] = [at % width, Math.floor(at / width)];
    const cloud = 15 * Math.exp(-((x - cloudX) ** 2 + (y - cloudY) ** 2) / 3000);
    return 170 + (slope * y) / height + cloud + 2 * random.normal();
  });
}

const disc = (pixels: number[], x: number, y: number, radius: number, share: number) =>
  pixels.map((value, at) =>
    Math.hypot((at % width) - x, Math.floor(at / width) - y) <= radius ? value * share : value,
  );

const imageOf = (pixels: readonly number[]): GreyImage => ({
  data: Uint8Array.from(pixels, Math.round),
  width,
  height,
});
const frames = (count: number, change: (pixels: number[], at: number) => number[]): readonly DustFrame[] => {
  const random = seededRandom(8);
  return Array.from({ length: count }, (_, at) => ({
    frameId: `frame-${at}` as FrameId,
    image: imageOf(change(sky(random), at)),
  }));
};
const spotsOf = (given: readonly DustFrame[]): readonly DustSpot[] => {
  const found = findDust({ frames: given, scale: 0.5 });
  if (found.kind !== 'looked') throw new Error(found.reason);
  return found.spots;
};

describe('dust on a sensor', () => {
  it('PL800: a dark round spot that stays while the scene changes is found, with its place, size, depth and frames', () => {
    const [spot, ...others] = spotsOf(frames(8, (pixels) => disc(pixels, 150, 60, 5, 0.95)));
    expect(others).toEqual([]);
    expect(Math.abs(spot!.x * width - 150)).toBeLessThan(3);
    expect(Math.abs(spot!.y * height - 60)).toBeLessThan(3);
    expect(spot!.acrossPx).toBeGreaterThan(12);
    expect(spot!.acrossPx).toBeLessThan(30);
    expect(spot!.darker).toBeGreaterThan(0.05);
    expect(spot!.darker).toBeLessThan(0.15);
    expect(spot!.frames.length).toBeGreaterThanOrEqual(5);
  });

  it('PL801: the same sky without it has none', () => {
    expect(spotsOf(frames(12, (pixels) => pixels))).toEqual([]);
  });

  it('PL802: what stands in one frame, or wanders, is not dust', () => {
    expect(spotsOf(frames(8, (pixels, at) => (at === 0 ? disc(pixels, 90, 90, 5, 0.7) : pixels)))).toEqual([]);
    expect(spotsOf(frames(8, (pixels, at) => disc(pixels, 40 + 20 * at, 90, 5, 0.85)))).toEqual([]);
  });

  it('PL803: one clear frame in three against it, and it is none', () => {
    expect(spotsOf(frames(9, (pixels, at) => (at % 3 === 0 ? pixels : disc(pixels, 90, 90, 5, 0.9))))).toEqual([]);
  });

  it('PL803: one odd frame among many does not hide it', () => {
    const [spot] = spotsOf(frames(9, (pixels, at) => (at === 4 ? pixels : disc(pixels, 90, 90, 5, 0.9))));
    expect(spot!.frames.length).toBeGreaterThanOrEqual(7);
  });

  it('PL804: what is bright, or long, is not dust', () => {
    expect(spotsOf(frames(8, (pixels) => disc(pixels, 90, 90, 5, 1.1)))).toEqual([]);
    const rope = (pixels: number[]) =>
      pixels.map((value, at) => (Math.abs((at % width) - 120) <= 2 ? value * 0.9 : value));
    expect(spotsOf(frames(8, rope))).toEqual([]);
  });

  it('PL805: frames of one scene are one witness, and fewer than five scenes are told, not judged', () => {
    const random = seededRandom(3);
    const scene = sky(random).map((value) => value + 25 * random.normal());
    const burst = Array.from({ length: 9 }, (_, at) => ({
      frameId: `burst-${at}` as FrameId,
      image: imageOf(scene.map((value) => value + random.normal())),
    }));
    expect(findDust({ frames: burst, scale: 0.5 })).toEqual({
      kind: 'cannot-tell',
      reason:
        'Expected at least 5 frames of different scenes but found 1. Photograph the sky a few times between sessions.',
    });
  });

  it('PL806: pictures too small to show the smallest spots are told, not judged', () => {
    expect(findDust({ frames: frames(8, (pixels) => pixels), scale: 0.1 })).toMatchObject({
      kind: 'cannot-tell',
      reason: expect.stringContaining('2400 pixels along the long edge, but these have about 600'),
    });
  });

  it('PL807: where the sky is clipped nothing is found, nor made up', () => {
    const halfClipped = (pixels: number[]) => pixels.map((value, at) => (at % width > 120 ? 255 : value));
    expect(spotsOf(frames(8, (pixels) => disc(halfClipped(pixels), 180, 90, 5, 0.9)))).toEqual([]);
  });
});
