import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { at, circuitOf, rectangle } from '../testing/shapes.js';
import { closeUp, sheetOf } from './drawCircuit.js';
import { layImage } from './underlay.js';

const sheet = sheetOf(circuitOf(rectangle(800, 400)), 900, 600);
const through = ([a, b, c, d, e, f]: readonly number[], x: number, y: number) => ({
  x: a! * x + c! * y + e!,
  y: b! * x + d! * y + f!,
});

describe('an image under the map', () => {
  test('PL114: north up, two metres a pixel: a third place of the image lies where it is on the ground', () => {
    const laid = layImage({ x: 100, y: 300, place: at(-200, -100) }, { x: 300, y: 200, place: at(200, 100) }, sheet)!;
    expect(laid.metresPerPixel).toBeCloseTo(2, 4);
    // North of the sheet is its first place's, 400 m to the west: 0.005° apart.
    expect(laid.turnedDeg).toBeCloseTo(0, 1);
    const third = through(laid.matrix, 200, 250);
    const ground = sheet.toSheet(at(0, 0));
    expect([third.x, third.y]).toEqual([expect.closeTo(ground.x, 1), expect.closeTo(ground.y, 1)]);
  });

  test('PL114: an image with east up is turned by a quarter', () => {
    const laid = layImage({ x: 0, y: 100, place: at(0, 0) }, { x: 0, y: 0, place: at(100, 0) }, sheet)!;
    expect(laid.turnedDeg).toBeCloseTo(90, 1);
  });

  test('PL114: both pins lie where they were set, and angles and shares of lengths stay', () => {
    const number = fc.integer({ min: -400, max: 400 });
    fc.assert(
      fc.property(number, number, number, number, (x, y, east, north) => {
        fc.pre(Math.hypot(x, y) > 1 && Math.hypot(east, north) > 1);
        const [first, second] = [at(0, 0), at(east, north)];
        const laid = layImage({ x: 0, y: 0, place: first }, { x, y, place: second }, sheet)!;
        for (const [px, py, place] of [
          [0, 0, first],
          [x, y, second],
        ] as const) {
          const [drawn, ground] = [through(laid.matrix, px, py), sheet.toSheet(place)];
          expect(Math.hypot(drawn.x - ground.x, drawn.y - ground.y)).toBeLessThan(1e-6);
        }
        const [a, b, c, d] = laid.matrix;
        expect([a, b]).toEqual([d, -c]);
      }),
    );
  });

  test('PL114: from two pins in one place nothing follows', () => {
    expect(layImage({ x: 5, y: 5, place: at(0, 0) }, { x: 5, y: 5, place: at(100, 0) }, sheet)).toBeNull();
    expect(layImage({ x: 5, y: 5, place: at(0, 0) }, { x: 90, y: 5, place: at(0, 0) }, sheet)).toBeNull();
  });

  test('PL111: drawn larger, the place stands in the middle and a point of the sheet is still that place’s', () => {
    const large = closeUp(sheet, at(100, 50), 4, 900, 600);
    const middle = large.toSheet(at(100, 50));
    expect([middle.x, middle.y]).toEqual([450, 300]);
    expect(large.toSheet(at(110, 50)).x - 450).toBeCloseTo(10 * large.perMetre, 2);
    expect(large.perMetre).toBeCloseTo(4 * sheet.perMetre, 9);
    const there = large.toSheet(large.toPlace({ x: 12, y: 500 }));
    expect([there.x, there.y]).toEqual([expect.closeTo(12, 6), expect.closeTo(500, 6)]);
  });
});
