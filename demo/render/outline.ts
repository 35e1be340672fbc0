/** Side-view outlines of bodywork: closed curves through a few points, extruded to a width that varies over the side. */
import type { Distance } from './distance.js';
import { clamp, hypot, mix } from './maths.js';

export type Point = readonly [number, number];
/** Signed distance in the side view, metres, negative inside. */
export type PlaneDistance = (x: number, y: number) => number;

const STEPS_PER_POINT = 7;
const TENSION = 0.43;

/** Catmull–Rom through the points, closed. */
export function closedCurve(points: readonly Point[]): Point[] {
  const count = points.length;
  const curve: Point[] = [];
  const at = (i: number): Point => points[(i + count) % count]!;
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < STEPS_PER_POINT; k++) {
      const t = k / STEPS_PER_POINT;
      const axis = (c: 0 | 1): number => hermite(at(i - 1)[c], at(i)[c], at(i + 1)[c], at(i + 2)[c], t);
      curve.push([axis(0), axis(1)]);
    }
  }
  return curve;
}

function hermite(a: number, b: number, c: number, d: number, t: number): number {
  const t2 = t * t;
  const t3 = t2 * t;
  return (
    (2 * t3 - 3 * t2 + 1) * b +
    (t3 - 2 * t2 + t) * TENSION * (c - a) +
    (-2 * t3 + 3 * t2) * c +
    (t3 - t2) * TENSION * (d - b)
  );
}

/** Distance to a polygon (after I. Quilez, "2D distance functions"). */
export function polygonDistance(polygon: readonly Point[], x: number, y: number): number {
  let squared = 1e9;
  let sign = 1;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i, i++) {
    const a = polygon[i]!;
    const b = polygon[j]!;
    const ex = b[0] - a[0];
    const ey = b[1] - a[1];
    const wx = x - a[0];
    const wy = y - a[1];
    const t = clamp((wx * ex + wy * ey) / (ex * ex + ey * ey));
    const bx = wx - ex * t;
    const by = wy - ey * t;
    squared = Math.min(squared, bx * bx + by * by);
    const above = y >= a[1];
    const below = y < b[1];
    const left = ex * wy > ey * wx;
    if ((above && below && left) || (!above && !below && !left)) sign = -sign;
  }
  return sign * Math.sqrt(squared);
}

const FIELD_CELL_M = 0.006;
const FIELD_MARGIN_M = 0.12;

/** The curve's distance, sampled once on a grid: polygons are far too slow to ask a million times. */
export function fieldOf(points: readonly Point[]): PlaneDistance {
  const curve = closedCurve(points);
  const xs = curve.map((p) => p[0]);
  const ys = curve.map((p) => p[1]);
  const x0 = Math.min(...xs) - FIELD_MARGIN_M;
  const y0 = Math.min(...ys) - FIELD_MARGIN_M;
  const columns = Math.ceil((Math.max(...xs) + FIELD_MARGIN_M - x0) / FIELD_CELL_M) + 2;
  const rows = Math.ceil((Math.max(...ys) + FIELD_MARGIN_M - y0) / FIELD_CELL_M) + 2;
  const grid = new Float32Array(columns * rows);
  for (let j = 0; j < rows; j++)
    for (let i = 0; i < columns; i++)
      grid[j * columns + i] = polygonDistance(curve, x0 + i * FIELD_CELL_M, y0 + j * FIELD_CELL_M);
  return (x, y) => {
    const u = (x - x0) / FIELD_CELL_M;
    const v = (y - y0) / FIELD_CELL_M;
    const cu = clamp(u, 0, columns - 1.001);
    const cv = clamp(v, 0, rows - 1.001);
    const i = cu | 0;
    const j = cv | 0;
    const o = j * columns + i;
    const top = mix(grid[o]!, grid[o + 1]!, cu - i);
    const bottom = mix(grid[o + columns]!, grid[o + columns + 1]!, cu - i);
    return mix(top, bottom, cv - j) + FIELD_CELL_M * (Math.abs(u - cu) + Math.abs(v - cv));
  };
}

/** The outline as a body `2·halfWidth` thick, its edges rounded by `roundSide` in the side view, `roundWidth` across. */
export const extruded =
  (side: PlaneDistance, halfWidth: PlaneDistance, roundSide: number, roundWidth: number): Distance =>
  (x, y, z) => {
    const a = side(x, y) + roundSide;
    const b = (Math.abs(z) - halfWidth(x, y) + roundWidth) * (roundSide / roundWidth);
    return hypot(Math.max(a, 0), Math.max(b, 0)) + Math.min(Math.max(a, b), 0) - roundSide;
  };
