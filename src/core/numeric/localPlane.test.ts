import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { localPlane, radiiOfCurvature } from './localPlane.js';

interface Row {
  readonly middle: { readonly latitudeDeg: number; readonly longitudeDeg: number };
  readonly from: { readonly latitudeDeg: number; readonly longitudeDeg: number };
  readonly to: { readonly latitudeDeg: number; readonly longitudeDeg: number };
  readonly distanceM: number;
  readonly azimuthDeg: number;
}
const { rows } = JSON.parse(readFileSync('test/fixtures/geodesic/short.json', 'utf8')) as { rows: readonly Row[] };

/** The plane's own error within 5 km, and the turn of its north against the meridian, which is not the distance's error. */
const TOLERANCE = { metres: 0.01, share: 2e-6 };

describe('a plane in metres', () => {
  /** As tabulated for WGS 84, metres: encyclopaedic articles on the length of a degree, read November 2026. */
  test.each([
    [0, 110_574],
    [45, 111_132],
    [90, 111_694],
  ])('a degree of latitude at %i° is %i m', (latitudeDeg, metres) => {
    const degreeM = (radiiOfCurvature(latitudeDeg).meridianM * Math.PI) / 180;
    expect(Math.abs(degreeM - metres)).toBeLessThan(1);
  });

  /** The same, and a conversion chart for WGS 84: 74.63 km a degree at 48°. */
  test.each([
    [0, 111_320],
    [48, 74_630],
  ])('a degree of longitude at %i° is %i m', (latitudeDeg, metres) => {
    const degreeM = (radiiOfCurvature(latitudeDeg).acrossM * Math.cos((latitudeDeg * Math.PI) / 180) * Math.PI) / 180;
    expect(Math.abs(degreeM - metres)).toBeLessThan(5);
  });

  test('PL101: distances agree with geodesics of a second implementation', () => {
    expect(rows).toHaveLength(30);
    for (const { middle, from, to, distanceM } of rows) {
      const plane = localPlane(middle.longitudeDeg, middle.latitudeDeg);
      const a = plane.toPoint(from.longitudeDeg, from.latitudeDeg);
      const b = plane.toPoint(to.longitudeDeg, to.latitudeDeg);
      const error = Math.abs(Math.hypot(b.x - a.x, b.y - a.y) - distanceM);
      expect(error).toBeLessThan(TOLERANCE.metres + TOLERANCE.share * distanceM);
    }
  });

  test('PL101: from the middle, directions agree with geodesics', () => {
    const fromMiddle = rows.filter(
      ({ middle, from }) => middle.latitudeDeg === from.latitudeDeg && middle.longitudeDeg === from.longitudeDeg,
    );
    expect(fromMiddle).toHaveLength(12);
    for (const { middle, to, azimuthDeg } of fromMiddle) {
      const { x, y } = localPlane(middle.longitudeDeg, middle.latitudeDeg).toPoint(to.longitudeDeg, to.latitudeDeg);
      expect((Math.atan2(x, y) * 180) / Math.PI).toBeCloseTo(azimuthDeg, 3);
    }
  });

  test('a point and back is the same place, also over the date line', () => {
    const metres = fc.double({ min: -8000, max: 8000, noNaN: true });
    const longitude = fc.double({ min: -180, max: 180, noNaN: true });
    const latitude = fc.double({ min: -75, max: 75, noNaN: true });
    fc.assert(
      fc.property(longitude, latitude, metres, metres, (longitudeDeg, latitudeDeg, x, y) => {
        const plane = localPlane(longitudeDeg, latitudeDeg);
        const place = plane.toPlace({ x, y });
        const back = plane.toPoint(place.longitudeDeg, place.latitudeDeg);
        expect(Math.hypot(back.x - x, back.y - y)).toBeLessThan(1e-5);
      }),
    );
  });
});
