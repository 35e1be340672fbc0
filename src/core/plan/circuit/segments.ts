/** Straight pieces in the plane: nearest points and crossings. */
import type { Point } from '../../numeric/localPlane.js';

export const distanceBetween = (a: Point, b: Point): number => Math.hypot(a.x - b.x, a.y - b.y);
export const pointBetween = (a: Point, b: Point, share: number): Point => ({
  x: a.x + share * (b.x - a.x),
  y: a.y + share * (b.y - a.y),
});

/** Share of the piece from `a` to `b` at which it is nearest to `point`, 0 to 1. */
export function nearestShare(point: Point, a: Point, b: Point): number {
  const squared = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  if (squared === 0) return 0;
  return Math.min(1, Math.max(0, ((point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y)) / squared));
}

/** Shares of both pieces where `a–b` and `c–d` meet; null where they do not, or run side by side. */
export function meetingShares(a: Point, b: Point, c: Point, d: Point): readonly [number, number] | null {
  const across = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
  if (across === 0) return null;
  const first = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / across;
  const second = ((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / across;
  return first >= 0 && first <= 1 && second >= 0 && second <= 1 ? [first, second] : null;
}

/** Where an open line of points comes nearest: metres along it, and the distance. */
export function nearestOnLine(point: Point, line: readonly Point[]) {
  let along = 0;
  let best = { alongM: 0, distanceM: Number.POSITIVE_INFINITY, point: line[0]! };
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const share = nearestShare(point, a, b);
    const foot = pointBetween(a, b, share);
    const distanceM = distanceBetween(point, foot);
    const step = distanceBetween(a, b);
    if (distanceM < best.distanceM) best = { alongM: along + share * step, distanceM, point: foot };
    along += step;
  }
  return best;
}

export const lengthOf = (line: readonly Point[]): number =>
  line.slice(1).reduce((sum, point, i) => sum + distanceBetween(line[i]!, point), 0);

/** The part of an open line from some metres along it to others. */
export function lineBetween(line: readonly Point[], fromM: number, toM: number): Point[] {
  const out: Point[] = [];
  let along = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const step = distanceBetween(a, b);
    const [first, last] = [Math.max(fromM, along), Math.min(toM, along + step)];
    if (step > 0 && first <= last) {
      if (out.length === 0) out.push(pointBetween(a, b, (first - along) / step));
      out.push(pointBetween(a, b, (last - along) / step));
    }
    along += step;
  }
  return out;
}

/** Points every `stepM` along an open line, both ends with it. */
export function walkLine(line: readonly Point[], stepM: number): Point[] {
  const out: Point[] = [line[0]!];
  let due = stepM;
  let along = 0;
  for (let i = 1; i < line.length; i++) {
    const step = distanceBetween(line[i - 1]!, line[i]!);
    for (; due <= along + step; due += stepM) out.push(pointBetween(line[i - 1]!, line[i]!, (due - along) / step));
    along += step;
  }
  if (distanceBetween(out.at(-1)!, line.at(-1)!) > 1e-9) out.push(line.at(-1)!);
  return out;
}

/** All places where a closed ring meets itself other than from one piece to the next. Pieces are swept from west to east. */
export function selfCrossings(ring: readonly Point[]): Point[] {
  const pieces = ring
    .map((from, i) => ({ i, from, to: ring[(i + 1) % ring.length]! }))
    .filter(({ from, to }) => distanceBetween(from, to) > 0)
    .map((piece, order) => ({ ...piece, order, west: Math.min(piece.from.x, piece.to.x) }))
    .sort((p, q) => p.west - q.west);
  const found: Point[] = [];
  let open: typeof pieces = [];
  for (const piece of pieces) {
    open = open.filter((other) => Math.max(other.from.x, other.to.x) >= piece.west);
    for (const other of open) {
      const apart = Math.abs(piece.order - other.order);
      if (apart <= 1 || apart === pieces.length - 1) continue;
      const shares = meetingShares(piece.from, piece.to, other.from, other.to);
      if (shares === null) continue;
      const at = pointBetween(piece.from, piece.to, shares[0]);
      if (!found.some((known) => distanceBetween(known, at) < 1)) found.push(at);
    }
    open.push(piece);
  }
  return found;
}
