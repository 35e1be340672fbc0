/** Circuits of known shape for tests, near 55° N in open sea. */
import { localPlane, type Point } from '../../../numeric/localPlane.js';
import { degreesOf } from '../../../units.js';
import { placeOf } from '../track.js';
import type { Circuit, CircuitSpot, Place, Way } from '../types.js';

const plane = localPlane(2.4, 55);
export const at = (x: number, y: number): Place => placeOf(plane, { x, y });

/** Clockwise from north, one point about every `stepM`. */
export function circle(radius: number, stepM: number): Point[] {
  const count = Math.round((2 * Math.PI * radius) / stepM);
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    return { x: radius * Math.sin(angle), y: radius * Math.cos(angle) };
  });
}

export const circuitOf = (ring: readonly Point[], more: Partial<Circuit> = {}): Circuit => ({
  name: 'Test ring',
  zone: 'Europe/London',
  direction: 'clockwise',
  centreline: ring.map(({ x, y }) => at(x, y)),
  bends: [],
  ways: [],
  spots: [],
  paddock: at(0, 0),
  ...more,
});

export const spotAt = (id: string, x: number, y: number, viewAzimuthDeg: number, number = 1): CircuitSpot => ({
  id: id as CircuitSpot['id'],
  number,
  name: id,
  place: at(x, y),
  viewAzimuthDeg: degreesOf(viewAzimuthDeg),
});

export const wayAlong = (id: string, points: readonly (readonly [number, number])[], more: Partial<Way> = {}): Way => ({
  id,
  line: points.map(([x, y]) => at(x, y)),
  kind: 'path',
  crossing: 'none',
  onFoot: 'anyone',
  byVehicle: 'nobody',
  ...more,
});

/** A rectangle from its north-west corner, clockwise, a point every 10 m. */
export function rectangle(width: number, height: number): Point[] {
  const out: Point[] = [];
  for (let x = -width / 2; x < width / 2; x += 10) out.push({ x, y: height / 2 });
  for (let y = height / 2; y > -height / 2; y -= 10) out.push({ x: width / 2, y });
  for (let x = width / 2; x > -width / 2; x -= 10) out.push({ x, y: -height / 2 });
  for (let y = -height / 2; y < height / 2; y += 10) out.push({ x: -width / 2, y });
  return out;
}
