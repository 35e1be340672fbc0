/** A closed line from straights and arcs: each corner is rounded with its own radius. */
import type { Point } from '../../src/core/numeric/localPlane.js';

export interface Corner extends Point {
  readonly name: string;
  /** Metres. */
  readonly radius: number;
}

export interface Laid {
  /** Points of the ring about every ten metres. */
  readonly ring: readonly Point[];
  readonly lengthM: number;
  /** Where each corner is tightest, metres along: the middle of its arc. */
  readonly apexes: readonly { readonly name: string; readonly radius: number; readonly alongM: number }[];
}

interface Arc {
  readonly centre: Point;
  readonly from: Point;
  readonly to: Point;
  readonly startAngle: number;
  /** Radians, anticlockwise positive. */
  readonly turn: number;
}

const STEP_M = 10;
const between = (a: Point, b: Point): number => Math.hypot(b.x - a.x, b.y - a.y);
const towards = (a: Point, b: Point, metres: number): Point => {
  const share = metres / between(a, b);
  return { x: a.x + share * (b.x - a.x), y: a.y + share * (b.y - a.y) };
};

function arcOf({ radius, ...at }: Corner, before: Point, after: Point): Arc {
  const inward = Math.atan2(at.y - before.y, at.x - before.x);
  const outward = Math.atan2(after.y - at.y, after.x - at.x);
  const turn = Math.atan2(Math.sin(outward - inward), Math.cos(outward - inward));
  const cutM = radius * Math.tan(Math.abs(turn) / 2);
  const from = towards(at, before, cutM);
  const side = Math.sign(turn);
  const centre = { x: from.x - side * radius * Math.sin(inward), y: from.y + side * radius * Math.cos(inward) };
  const startAngle = Math.atan2(from.y - centre.y, from.x - centre.x);
  return { centre, from, to: towards(at, after, cutM), startAngle, turn };
}

/** @param start a point on the straight that leads to the first corner. */
export function layCorners(start: Point, corners: readonly Corner[]): Laid {
  const count = corners.length;
  const arcs = corners.map((corner, i) => arcOf(corner, corners[(i + count - 1) % count]!, corners[(i + 1) % count]!));
  const ring: Point[] = [];
  const apexes: { name: string; radius: number; alongM: number }[] = [];
  let along = 0;
  let at = start;
  const straightTo = (end: Point): void => {
    const lengthM = between(at, end);
    const steps = Math.max(1, Math.round(lengthM / STEP_M));
    for (let k = 0; k < steps; k++) ring.push(towards(at, end, (k * lengthM) / steps));
    along += lengthM;
    at = end;
  };
  arcs.forEach(({ centre, from, to, startAngle, turn }, i) => {
    const { name, radius } = corners[i]!;
    straightTo(from);
    const lengthM = radius * Math.abs(turn);
    const steps = Math.max(2, Math.round(lengthM / STEP_M));
    for (let k = 0; k < steps; k++) {
      const angle = startAngle + (turn * k) / steps;
      ring.push({ x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) });
    }
    apexes.push({ name, radius, alongM: along + lengthM / 2 });
    along += lengthM;
    at = to;
  });
  straightTo(start);
  return { ring, lengthM: along, apexes };
}
