/** Azimuths: degrees from north, clockwise. Points are metres east and north. */
import type { Point } from '../../numeric/localPlane.js';
import { type Degrees, degreesOf } from '../../units.js';

const RAD = Math.PI / 180;

/** From 0 up to 360. */
export const azimuthOf = (deg: number): Degrees => degreesOf(((deg % 360) + 360) % 360);
/** From -180 to 180, clockwise positive. */
export const turnOf = (deg: number): number => deg - 360 * Math.round(deg / 360);
export const azimuthFrom = (from: Point, to: Point): Degrees =>
  azimuthOf(Math.atan2(to.x - from.x, to.y - from.y) / RAD);
export const stepFrom = (from: Point, azimuthDeg: number, metres: number): Point => ({
  x: from.x + metres * Math.sin(azimuthDeg * RAD),
  y: from.y + metres * Math.cos(azimuthDeg * RAD),
});
