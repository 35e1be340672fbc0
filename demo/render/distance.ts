/** Signed distances, in metres, negative inside: the building blocks of bikes and riders. */
import { clamp, cross, dot, hypot, subtract, unit, type Vector } from './maths.js';

export type Distance = (x: number, y: number, z: number) => number;

/** Smooth minimum, polynomial, blending over `k` metres. */
export const blendMin = (a: number, b: number, k: number): number => {
  const h = Math.max(k - Math.abs(a - b), 0) / k;
  return Math.min(a, b) - h * h * k * 0.25;
};
export const blendMax = (a: number, b: number, k: number): number => -blendMin(-a, -b, k);

export const sphere =
  (c: Vector, r: number): Distance =>
  (x, y, z) =>
    hypot(x - c[0], y - c[1], z - c[2]) - r;

/** Approximate, exact on the surface. */
export const ellipsoid =
  (c: Vector, r: Vector): Distance =>
  (x, y, z) => {
    const px = (x - c[0]) / r[0];
    const py = (y - c[1]) / r[1];
    const pz = (z - c[2]) / r[2];
    const k0 = hypot(px, py, pz);
    const k1 = hypot(px / r[0], py / r[1], pz / r[2]);
    return k1 < 1e-9 ? -Math.min(r[0], r[1], r[2]) : (k0 * (k0 - 1)) / k1;
  };

/** A rounded stick from `a` to `b`, thickness changing from `ra` to `rb`. */
export function capsule(a: Vector, b: Vector, ra: number, rb = ra): Distance {
  const d = subtract(b, a);
  const squared = dot(d, d);
  return (x, y, z) => {
    const px = x - a[0];
    const py = y - a[1];
    const pz = z - a[2];
    const t = clamp((px * d[0] + py * d[1] + pz * d[2]) / squared);
    return hypot(px - d[0] * t, py - d[1] * t, pz - d[2] * t) - (ra + (rb - ra) * t);
  };
}

export const roundedBox =
  (c: Vector, half: Vector, r: number): Distance =>
  (x, y, z) => {
    const qx = Math.abs(x - c[0]) - half[0] + r;
    const qy = Math.abs(y - c[1]) - half[1] + r;
    const qz = Math.abs(z - c[2]) - half[2] + r;
    return hypot(Math.max(qx, 0), Math.max(qy, 0), Math.max(qz, 0)) + Math.min(Math.max(qx, qy, qz), 0) - r;
  };

export const union =
  (...parts: readonly Distance[]): Distance =>
  (x, y, z) => {
    let nearest = 1e9;
    for (const part of parts) nearest = Math.min(nearest, part(x, y, z));
    return nearest;
  };

export const blended =
  (k: number, ...parts: readonly Distance[]): Distance =>
  (x, y, z) => {
    let nearest = parts[0]!(x, y, z);
    for (let i = 1; i < parts.length; i++) nearest = blendMin(nearest, parts[i]!(x, y, z), k);
    return nearest;
  };

/** The same on both sides of the bike. */
export const bothSides =
  (part: Distance): Distance =>
  (x, y, z) =>
    part(x, y, Math.abs(z));

export interface Frame {
  readonly origin: Vector;
  readonly x: Vector;
  readonly y: Vector;
  readonly z: Vector;
}

export function frameAlong(origin: Vector, forward: Vector, up: Vector): Frame {
  const x = unit(forward);
  const z = unit(cross(x, up));
  return { origin, x, y: cross(z, x), z };
}

/** `part` is described in the frame's own axes. */
export const within =
  (f: Frame, part: Distance): Distance =>
  (x, y, z) => {
    const dx = x - f.origin[0];
    const dy = y - f.origin[1];
    const dz = z - f.origin[2];
    return part(
      dx * f.x[0] + dy * f.x[1] + dz * f.x[2],
      dx * f.y[0] + dy * f.y[1] + dz * f.y[2],
      dx * f.z[0] + dy * f.z[1] + dz * f.z[2],
    );
  };
