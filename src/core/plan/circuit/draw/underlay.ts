/** A map image laid under the drawing by two places known on both. Rule PL114. */
import type { Place } from '../types.js';
import type { Sheet } from './drawCircuit.js';

/** A place on the ground and where the image shows it: pixels from its top left corner. */
export interface Pin {
  readonly x: number;
  readonly y: number;
  readonly place: Place;
}

export interface LaidImage {
  /** As SVG has it: `matrix(a b c d e f)` from pixels of the image to the sheet. */
  readonly matrix: readonly [number, number, number, number, number, number];
  readonly metresPerPixel: number;
  /** Of what is up in the image, from north, clockwise. */
  readonly turnedDeg: number;
}

/** Shifted, turned and scaled, never stretched or mirrored. Null where the two pins are one place, on the ground or in the image. */
export function layImage(first: Pin, second: Pin, sheet: Sheet): LaidImage | null {
  const [p, q] = [sheet.toSheet(first.place), sheet.toSheet(second.place)];
  const [x, y] = [second.x - first.x, second.y - first.y];
  const [across, down] = [q.x - p.x, q.y - p.y];
  const squared = x * x + y * y;
  if (squared < 1 || Math.hypot(across, down) < 1e-6) return null;
  const a = (across * x + down * y) / squared;
  const b = (down * x - across * y) / squared;
  return {
    matrix: [a, b, -b, a, p.x - a * first.x + b * first.y, p.y - b * first.x - a * first.y],
    metresPerPixel: Math.hypot(a, b) / sheet.perMetre,
    turnedDeg: (Math.atan2(b, a) * 180) / Math.PI,
  };
}
