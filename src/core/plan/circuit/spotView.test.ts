import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { metresOf } from '../../units.js';
import { findBends, momentsAt } from './bends.js';
import { seenOf, viewOf } from './spotView.js';
import { circle, circuitOf, rectangle, spotAt } from './testing/shapes.js';
import { layTrack } from './track.js';

describe('what is seen from a spot', () => {
  const oblong = circuitOf(rectangle(800, 400));

  test('PL103: from the infield of a clockwise circuit one sees the right side, from outside the left', () => {
    const inside = viewOf(oblong, spotAt('inside', 100, 170, 0))!;
    expect(inside).toMatchObject({ aspect: 'side-on', sideSeen: 'right', radiusM: null, moments: ['straight'] });
    expect(inside.distanceM).toBeCloseTo(30, 1);
    expect(inside.alongM).toBeCloseTo(500, 0);
    expect(inside.headingDeg).toBeCloseTo(90, 1);
    expect(viewOf(oblong, spotAt('outside', 100, 230, 180))!.sideSeen).toBe('left');
  });

  /** By hand: bike north (0°); the lens looks towards the second angle. */
  test.each([
    [0, 180, 'head-on', 'both'],
    [0, 0, 'going-away', 'both'],
    [0, 270, 'side-on', 'right'],
    [0, 90, 'side-on', 'left'],
    [0, 225, 'three-quarter', 'right'],
    [0, 135, 'three-quarter', 'left'],
    [0, 315, 'going-away', 'right'],
    [200, 20, 'head-on', 'both'],
  ] as const)('PL103: a bike going to %i° seen towards %i° is %s, side %s', (heading, view, aspect, sideSeen) => {
    expect(seenOf(view, heading)).toEqual({ aspect, sideSeen });
  });

  test('PL103: mirrored, the aspect stays and the side changes', () => {
    const degrees = fc.double({ min: 0, max: 360, noNaN: true, maxExcluded: true });
    const other = { left: 'right', right: 'left', both: 'both' } as const;
    fc.assert(
      fc.property(degrees, (view) => {
        fc.pre(Math.abs(((view + 22.5) % 45) - 0) > 1e-6);
        const [one, mirrored] = [seenOf(view, 0), seenOf(-view, 0)];
        expect(mirrored).toEqual({ aspect: one.aspect, sideSeen: other[one.sideSeen] });
      }),
    );
  });

  test("PL103: a person's word stands before what the drawing gives", () => {
    const spot = {
      ...spotAt('said', 100, 170, 0),
      distanceM: metresOf(44),
      aspect: 'three-quarter',
      sideSeen: 'left',
      moments: ['exit'],
    } as const;
    expect(viewOf(oblong, spot)).toMatchObject({
      distanceM: 44,
      aspect: 'three-quarter',
      sideSeen: 'left',
      moments: ['exit'],
    });
  });

  test('PL103: of two places along the view the said distance chooses', () => {
    const near = spotAt('through', 0, 170, 180);
    expect(viewOf(oblong, near)!.alongM).toBeCloseTo(1600, 0);
    const spot = { ...spotAt('over', 0, 230, 180), distanceM: metresOf(400) };
    expect(viewOf(oblong, spot)!.alongM).toBeCloseTo(1600, 0);
    expect(viewOf(oblong, { ...spot, distanceM: metresOf(25) })!.alongM).toBeCloseTo(400, 0);
  });

  test('PL103: a view that just passes the line by is taken for the nearest bit of it; one that looks away sees nothing', () => {
    const ring = circuitOf(circle(100, 10));
    expect(viewOf(ring, spotAt('by', 130, 0, 325))).not.toBeNull();
    expect(viewOf(ring, spotAt('away', 130, 0, 90))).toBeNull();
  });

  test('PL104: entry, apex and exit follow one another through a bend', () => {
    const corner = circuitOf(roundedCorner());
    const track = layTrack(corner);
    const bends = [{ name: 'Corner', alongM: metresOf(400 + (Math.PI * 40) / 2) }];
    const seen = [100, 380, 463, 545, 900].map((along) => momentsAt(track, bends, along));
    expect(seen.map(([first]) => first)).toEqual(['straight', 'entry', 'apex', 'exit', 'straight']);
  });

  test('PL102: bends are found by themselves, tightest in their middle', () => {
    const found = findBends(layTrack(circuitOf(roundedCorner())));
    expect(found[0]!.alongM).toBeGreaterThan(400 + 30);
    expect(found[0]!.alongM).toBeLessThan(400 + 96);
    expect(found.map(({ name }) => name)).toEqual(found.map((_, i) => `Bend ${i + 1}`));
    expect(findBends(layTrack(circuitOf(circle(900, 20))))).toEqual([]);
  });
});

/** East for 400 m, half round to the right with a radius of 40 m, west again and home over a far corner. */
function roundedCorner(): { x: number; y: number }[] {
  const out = Array.from({ length: 40 }, (_, i) => ({ x: -400 + 10 * i, y: 0 }));
  for (let i = 0; i <= 12; i++) {
    const angle = (Math.PI * i) / 12;
    out.push({ x: 40 * Math.sin(angle), y: -40 + 40 * Math.cos(angle) });
  }
  for (let x = -10; x > -800; x -= 10) out.push({ x, y: -80 });
  return [...out, { x: -800, y: -40 }, { x: -800, y: 0 }];
}
