import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { FrameId, RiderKey } from '../../ids.js';
import type { LightStops } from '../../measure/types.js';
import type { WallMs } from '../../units.js';
import { aimOf, balanceFrames, type FrameLight } from './index.js';

const light = (stops: number, red = 0, blue = 0): LightStops => ({ stops, red, blue });
const frame = (name: string, ground: LightStops | null, riders: Readonly<Record<string, LightStops>>, minute = 0) =>
  ({
    frame: name as FrameId,
    spot: 'bend',
    place: 'bend',
    wall: (minute * 60_000) as WallMs,
    ground,
    riders: Object.entries(riders).map(([rider, own]) => ({ rider: rider as RiderKey, light: own })),
  }) satisfies FrameLight;

/** What a frame's ground and rider show once its balance is applied. */
const finished = ({ stops, red, blue }: LightStops, needs: LightStops): LightStops =>
  light(stops + needs.stops, red + needs.red, blue + needs.blue);

describe('balanceFrames', () => {
  test('LK10: one rider under changing light comes out alike, ground and all', () => {
    const changes = [light(0), light(-1.1, 0.2, -0.15), light(0.6, -0.1, 0.2), light(-0.4, 0.05, 0)];
    const frames = changes.map((change, index) =>
      frame(`f${index}`, finished(light(-1.5), change), { black: finished(light(-3.5, 0.1, 0.1), change) }, index),
    );
    const balances = balanceFrames(frames, aimOf(frames)!);
    const shown = frames.map(({ frame: id, riders }) => finished(riders[0]!.light, balances.get(id)!.needs));
    for (const one of shown) {
      expect(one.stops).toBeCloseTo(shown[0]!.stops, 9);
      expect(one.red).toBeCloseTo(shown[0]!.red, 9);
      expect(one.blue).toBeCloseTo(shown[0]!.blue, 9);
      // The middle of the changes is 0.025 off: by LK25 half of that is taken to be the spot's own.
      expect(Math.abs(one.red - 0.1)).toBeLessThan(0.013);
      expect(Math.abs(one.blue - 0.1)).toBeLessThan(0.013);
    }
  });

  test('LK11: a black bike is not made grey, nor a red one less red', () => {
    const frames = [0, 1, 2, 3].flatMap((lap) => [
      frame(`b${lap}`, light(-1.5), { black: light(-4.2) }, lap),
      frame(`r${lap}`, light(-1.5), { red: light(-1, 1.4, -0.5) }, lap),
    ]);
    for (const { needs } of balanceFrames(frames, aimOf(frames)!).values()) {
      expect(needs.stops).toBeCloseTo(0, 9);
      expect(needs.red).toBeCloseTo(0, 9);
    }
  });

  test('LK25: tarmac of another spot is brought half of the way and not far, its own frames wholly to each other', () => {
    const bleached = [0, 0.3, -0.3, 0.1, -0.1].map((off, index) => ({
      ...frame(`h${index}`, light(-0.4 + off, 0.06, -0.4 + off / 10), {}, index),
      spot: 'hairpin',
    }));
    const dark = Array.from({ length: 9 }, (_, index) => frame(`b${index}`, light(-2.4), {}, index));
    const balances = balanceFrames([...bleached, ...dark], aimOf([...bleached, ...dark])!);
    for (const { frame: id, ground } of bleached) {
      const shown = finished(ground!, balances.get(id)!.needs);
      expect(shown).toEqual(light(expect.closeTo(-0.9, 9), expect.closeTo(0.03, 9), expect.closeTo(-0.2, 9)));
    }
    for (const { frame: id } of dark) expect(balances.get(id)!.needs.stops).toBeCloseTo(0, 9);
  });

  test('LK25: two bodies at one spot show one ground', () => {
    const frames = [0, 1, 2, 3, 4, 5].map((index) => ({
      ...frame(`f${index}`, light(index % 2 ? -1.4 : -2), {}, index),
      place: `bend ${index % 2}`,
    }));
    const balances = balanceFrames(frames, aimOf(frames)!);
    for (const { frame: id, ground } of frames)
      expect(finished(ground!, balances.get(id)!.needs).stops).toBeCloseTo(-1.7, 9);
  });

  test('LK25: ground that no rider bears out changes a frame by a stop at most, and by less tint', () => {
    const usual = Array.from({ length: 9 }, (_, index) => frame(`u${index}`, light(-2), {}, index));
    const odd = frame('odd', light(0.5, -0.5, 0.5), {});
    const { needs } = balanceFrames([...usual, odd], light(-2)).get('odd' as FrameId)!;
    expect(needs).toEqual(light(-1, 0.3, -0.3));
  });

  test('LK12: a frame without ground takes what frames of its place about then needed, else nothing, and says so', () => {
    const frames = [
      frame('a', light(-2), {}, 0),
      frame('b', light(-2), {}, 1),
      frame('dark', null, {}, 2),
      frame('alone', null, {}, 90),
      frame('c', light(-1), {}, 200),
      frame('d', light(-1), {}, 201),
      frame('e', light(-1), {}, 202),
    ];
    const balances = balanceFrames(frames, aimOf(frames)!);
    expect(balances.get('dark' as FrameId)).toMatchObject({ from: 'neighbours', needs: { stops: 1 } });
    expect(balances.get('alone' as FrameId)).toMatchObject({ from: 'nothing', gains: [1, 1, 1] });
    expect(balances.get('a' as FrameId)?.from).toBe('own');
  });

  test('no frame is changed by more than can be right', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: -9, max: 5, noNaN: true }), fc.double({ min: -2, max: 2, noNaN: true })), {
          minLength: 1,
          maxLength: 12,
        }),
        (grounds) => {
          const frames = grounds.map(([stops, tint], index) =>
            frame(`f${index}`, light(stops, tint, -tint), {}, index),
          );
          const balances = balanceFrames(frames, aimOf(frames)!);
          expect(balances.size).toBe(frames.length);
          for (const { needs, gains } of balances.values()) {
            expect(Math.abs(needs.stops)).toBeLessThanOrEqual(1.6);
            expect(Math.abs(needs.red)).toBeLessThanOrEqual(0.6);
            expect(gains.every((gain) => Number.isFinite(gain) && gain > 0)).toBe(true);
          }
        },
      ),
    );
  });

  test('a day on which nothing shows ground has no aim', () => {
    expect(aimOf([frame('a', null, { one: light(-2) })])).toBeNull();
  });
});
