import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { metresOf } from '../../../units.js';
import { at, circle, circuitOf, rectangle, spotAt, wayAlong } from '../testing/shapes.js';
import type { Circuit } from '../types.js';
import { drawCircuit, sheetOf, USUAL_LETTERING } from './drawCircuit.js';
import { type Box, overlap } from './placeLabels.js';

const whole = circuitOf(rectangle(800, 400), {
  paddock: at(0, 260),
  bends: [{ name: 'Hawser', alongM: metresOf(800) }],
  spots: [spotAt('beacon', 100, 230, 180), spotAt('gannet', 120, 235, 180, 2)],
  ways: [
    wayAlong('path', [
      [-120, 235],
      [120, 235],
    ]),
    wayAlong(
      'road',
      [
        [0, 260],
        [0, -100],
      ],
      { crossing: 'tunnel', byVehicle: 'with-permit' },
    ),
  ],
});
const numbersIn = (d: string): number[] => d.match(/-?\d+(\.\d+)?/g)!.map(Number);
const labelsOf = (circuit: Circuit, width: number, height: number): Box[] => {
  const { spots, bends, crossings, paddock } = drawCircuit(circuit, width, height);
  return [...spots, ...bends, ...crossings, paddock].flatMap(({ label }) => label ?? []);
};

describe('a circuit on a sheet', () => {
  test('PL111: north is up, east to the right, one scale both ways', () => {
    const sheet = sheetOf(whole, 900, 600);
    const [middle, north, east] = [at(0, 0), at(0, 100), at(100, 0)].map(sheet.toSheet) as [Box, Box, Box];
    expect(north.y).toBeCloseTo(middle.y - 100 * sheet.perMetre, 1);
    expect(east.x).toBeCloseTo(middle.x + 100 * sheet.perMetre, 1);
  });

  test('PL111: a place under a point of the sheet is that point’s', () => {
    const sheet = sheetOf(whole, 300, 900);
    const under = sheet.toPlace({ x: 77, y: 401 });
    expect(sheet.toSheet(under).x).toBeCloseTo(77, 6);
    expect(sheet.toSheet(under).y).toBeCloseTo(401, 6);
  });

  test.each([
    [900, 600],
    [320, 480],
    [1600, 300],
  ])('PL111: all of it lies on a sheet of %i by %i', (width, height) => {
    const { track, ways, spots } = drawCircuit(whole, width, height);
    const drawn = [track, ...ways.map(({ d }) => d)].flatMap(numbersIn);
    const xs = [...drawn.filter((_, i) => i % 2 === 0), ...spots.map(({ x }) => x)];
    const ys = [...drawn.filter((_, i) => i % 2 === 1), ...spots.map(({ y }) => y)];
    expect(Math.min(...xs, ...ys)).toBeGreaterThan(0);
    expect(Math.max(...xs)).toBeLessThan(width);
    expect(Math.max(...ys)).toBeLessThan(height);
    expect(track).toMatch(/^M[\d. ]+(L[\d. ]+)+Z$/);
  });

  test('PL111: on a sheet held still only what was dragged moves', () => {
    const sheet = sheetOf(whole, 900, 600);
    const moved = { ...whole, spots: [spotAt('beacon', 700, 230, 180), whole.spots[1]!] };
    const [before, after] = [whole, moved].map((one) => drawCircuit(one, 900, 600, USUAL_LETTERING, sheet));
    expect(after!.track).toBe(before!.track);
    expect(after!.spots[1]).toMatchObject({ x: before!.spots[1]!.x, y: before!.spots[1]!.y });
    expect(after!.spots[0]!.x).toBeGreaterThan(before!.spots[0]!.x + 100);
    expect(drawCircuit(moved, 900, 600).track).not.toBe(before!.track);
  });

  test('PL111: the scale bar is a round length of ground, at most a quarter of the sheet', () => {
    const { scale, trackWidth } = drawCircuit(whole, 900, 600);
    const { perMetre } = sheetOf(whole, 900, 600);
    expect(scale.metres).toBe(200);
    expect(scale.length).toBeCloseTo(200 * perMetre, 1);
    expect(trackWidth).toBeCloseTo(12 * perMetre, 1);
    fc.assert(
      fc.property(fc.integer({ min: 60, max: 4000 }), fc.integer({ min: 60, max: 4000 }), (width, height) => {
        const bar = drawCircuit(whole, width, height).scale;
        expect(bar.length).toBeLessThanOrEqual(width / 4 + 0.01);
        expect(String(bar.metres)).toMatch(/^(0\.0*)?[125]0*$/);
      }),
      { numRuns: 20 },
    );
  });

  test('PL111: what of a way is drawn: its kind, its crossing, whether a permit is needed', () => {
    expect(drawCircuit(whole, 900, 600).ways).toMatchObject([
      { id: 'path', kind: 'path', crossing: 'none', needsPermit: false },
      { id: 'road', crossing: 'tunnel', needsPermit: true },
    ]);
  });

  test('PL111: a tunnel is marked where it gets under the track, along the bikes’ heading', () => {
    const { crossings } = drawCircuit(whole, 900, 600);
    const sheet = sheetOf(whole, 900, 600);
    expect(crossings).toHaveLength(1);
    const ground = sheet.toSheet(at(0, 200));
    expect(crossings[0]).toMatchObject({ name: 'tunnel', headingDeg: expect.closeTo(90, 0) });
    expect(Math.hypot(crossings[0]!.x - ground.x, crossings[0]!.y - ground.y)).toBeLessThan(3);
  });

  test('PL111: no label lies over another, over a spot, or off the sheet, wherever the spots stand', () => {
    const place = fc.tuple(fc.integer({ min: -450, max: 450 }), fc.integer({ min: -250, max: 250 }));
    let placed = 0;
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 15 }), (places) => {
        const spots = places.map(([x, y], i) => spotAt(`spot-${i}`, x, y, 0, i + 1));
        const circuit = { ...whole, spots };
        const labels = labelsOf(circuit, 700, 450);
        placed += labels.length;
        labels.forEach((label, i) => {
          expect(labels.slice(i + 1).some((other) => overlap(label, other))).toBe(false);
          expect(label.x >= 0 && label.y >= 0 && label.x + label.width <= 700 && label.y + label.height <= 450).toBe(
            true,
          );
        });
        for (const { x, y } of drawCircuit(circuit, 700, 450).spots)
          expect(labels.some((label) => overlap(label, { x: x - 1, y: y - 1, width: 2, height: 2 }))).toBe(false);
      }),
      { numRuns: 25 },
    );
    expect(placed).toBeGreaterThan(100);
  });

  test('PL111: on a sheet with no room a mark goes without its label rather than over another', () => {
    const crowd = Array.from({ length: 40 }, (_, i) =>
      spotAt(`spot-${i}`, (i % 8) * 4, 205 + Math.floor(i / 8) * 4, 180, i + 1),
    );
    const labels = labelsOf({ ...whole, spots: crowd }, 220, 160);
    expect(labels.length).toBeLessThan(42);
    expect(labels.length).toBeGreaterThan(3);
  });

  test('PL111: a label stays off the line where there is room', () => {
    const ring = circuitOf(circle(300, 10), { paddock: at(0, 0), spots: [spotAt('the west bank', -330, 0, 90)] });
    const { spots, track } = drawCircuit(ring, 700, 600);
    const label = spots[0]!.label!;
    const values = numbersIn(track);
    for (let i = 0; i < values.length; i += 2)
      expect(overlap(label, { x: values[i]!, y: values[i + 1]!, width: 0, height: 0 })).toBe(false);
    expect(label.width).toBe(USUAL_LETTERING.widthOf('the west bank'));
  });
});
