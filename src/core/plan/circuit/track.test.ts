import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { turnOf } from './angles.js';
import { distanceBetween } from './segments.js';
import { circle, circuitOf, rectangle } from './testing/shapes.js';
import { curvatureAt, headingAt, layTrack, nearestOnTrack, pointAlong, radiusAt } from './track.js';

/** Chords are shorter than arcs by step² / 24 R²; the window and the plane add nothing on a circle. */
const chordShare = (radius: number, stepM: number): number => stepM ** 2 / (24 * radius ** 2);

describe('the line the bikes take', () => {
  test.each([
    [30, 10],
    [60, 10],
    [200, 10],
    [900, 25],
  ])('PL101: a circle of %i m drawn every %i m has its radius and its length', (radius, stepM) => {
    const track = layTrack(circuitOf(circle(radius, stepM)));
    const error = chordShare(radius, stepM) + 1e-4;
    expect(Math.abs(track.lengthM / (2 * Math.PI * radius) - 1)).toBeLessThan(error);
    for (let along = 0; along < track.lengthM; along += 7)
      expect(Math.abs(radiusAt(track, along)! / radius - 1)).toBeLessThan(error);
  });

  test('PL101: a straight has no radius', () => {
    const track = layTrack(circuitOf(rectangle(800, 400)));
    expect(radiusAt(track, 400)).toBeNull();
    expect(radiusAt(track, 800)).not.toBeNull();
  });

  test('PL101: the whole turn of a ring is one turn, wherever it begins', () => {
    const track = layTrack(circuitOf(rectangle(800, 400)));
    const stepM = track.lengthM / 2400;
    let turn = 0;
    for (let i = 0; i < 2400; i++) turn += curvatureAt(track, i * stepM) * stepM;
    expect(turn).toBeCloseTo(2 * Math.PI, 2);
  });

  test('PL101: headings on a circle stand across its radius', () => {
    const track = layTrack(circuitOf(circle(300, 10)));
    for (let along = 0; along < track.lengthM; along += 13) {
      const expected = 90 + (along / track.lengthM) * 360;
      expect(Math.abs(turnOf(headingAt(track, along) - expected))).toBeLessThan(0.1);
    }
  });

  describe('on a clothoid', () => {
    /** Fresnel integrals, "Handbook of Mathematical Functions" (NBS Applied Mathematics Series 55, 1964), table 7.7. */
    const FRESNEL = [
      { u: 0.5, c: 0.4923442, s: 0.0647324 },
      { u: 1.0, c: 0.7798934, s: 0.4382591 },
      { u: 1.5, c: 0.4452612, s: 0.697505 },
    ];
    const scale = 300;
    /** Points of the spiral every 6 m by the midpoint rule, which is good to 1e-6 here. */
    const fresnel = (u: number): { x: number; y: number } => {
      const parts = 4000;
      let [x, y] = [0, 0];
      for (let i = 0; i < parts; i++) {
        const t = ((i + 0.5) * u) / parts;
        x += Math.cos((Math.PI / 2) * t * t) * (u / parts);
        y += Math.sin((Math.PI / 2) * t * t) * (u / parts);
      }
      return { x: scale * x, y: scale * y };
    };
    const spiral = Array.from({ length: 81 }, (_, i) => fresnel(0.02 * i));
    /** Closed far away: only the spiral is looked at. */
    const track = layTrack(circuitOf([...spiral, { x: 400, y: 600 }, { x: -300, y: 600 }, { x: -300, y: 0 }]));

    test.each(FRESNEL)('PL101: at u = $u the line lies where the published integrals put it', ({ u, c, s }) => {
      expect(distanceBetween(nearestOnTrack(track, { x: scale * c, y: scale * s }).point, fresnel(u))).toBeLessThan(
        0.1,
      );
      const first = track.points[0]!;
      const here = pointAlong(track, scale * u);
      expect(here.x - first.x).toBeCloseTo(scale * c, 0);
      expect(here.y - first.y).toBeCloseTo(scale * s, 0);
    });

    test.each(FRESNEL)('PL101: at u = $u its curvature is pi u over the scale, to the left', ({ u }) => {
      const along = Math.min(u, 1.5) * scale;
      expect(curvatureAt(track, along) / (-(Math.PI * u) / scale)).toBeCloseTo(1, 1.9);
    });
  });

  test('PL101: a place along the line is nearest to itself, however the line is drawn', () => {
    const track = layTrack(circuitOf(rectangle(800, 400)));
    fc.assert(
      fc.property(fc.double({ min: 0, max: 2399, noNaN: true }), (along) => {
        const found = nearestOnTrack(track, pointAlong(track, along));
        expect(found.distanceM).toBeLessThan(1e-6);
        const apart = Math.abs(found.alongM - along);
        expect(Math.min(apart, track.lengthM - apart)).toBeLessThan(1e-5);
      }),
    );
  });

  test('two points in one place do no harm', () => {
    const ring = circle(100, 10);
    const track = layTrack(circuitOf([ring[0]!, ring[0]!, ...ring.slice(1), ring[0]!]));
    expect(track.points).toHaveLength(ring.length);
    expect(headingAt(track, 0)).toBeGreaterThan(80);
  });
});
