/** Points that people pointed at → bikes. A point where nothing was detected makes a subject of its own. */
import type { FileId } from '../../ids.js';
import type { BikePoint } from '../../log/types.js';
import type { Box, FrameMeasured, Subject } from '../../measure/types.js';

/** A bike in an exposure; `subject` −1 and a box where only a person saw it. */
export interface PointedBike {
  readonly exposure: number;
  readonly subject: number;
  readonly box: Box;
}

export interface PointContext {
  readonly exposureOf: ReadonlyMap<FileId, number>;
  readonly measured: readonly (FrameMeasured | null)[];
}

/** Boxes drawn earlier, by another measurer's version, still mean the bike they overlap this much. */
const LEAST_OVERLAP = 0.3;
/** A finger misses the box by a little. */
const MARGIN = 0.02;
/** Size of the subject made of a bare point, share of the picture. */
const BARE_SIZE = 0.16;

/** Null when the file is not among those known. */
export function bikeAt(point: BikePoint, { exposureOf, measured }: PointContext): PointedBike | null {
  const exposure = exposureOf.get(point.file);
  if (exposure === undefined) return null;
  const subjects = measured[exposure]?.subjects ?? [];
  const candidates = subjects
    .map((subject, index) => ({ index, subject, fit: fitOf(point, subject) }))
    .filter(({ fit }) => fit > 0)
    .sort((a, b) => b.fit - a.fit || a.index - b.index);
  const best = candidates[0];
  if (best !== undefined) return { exposure, subject: best.index, box: best.subject.box };
  return { exposure, subject: -1, box: point.box ?? boxAround(point) };
}

/** Bikes before cars and people; then the drawn box, then the smallest box around the point. */
function fitOf({ x, y, box }: BikePoint, subject: Subject): number {
  const kind = subject.what === 'motorcycle' ? 10 : 0;
  if (box !== undefined) {
    const shared = overlapOf(box, subject.box);
    return shared >= LEAST_OVERLAP ? kind + shared : 0;
  }
  const [left, top, width, height] = subject.box;
  const isInside = x >= left - MARGIN && x <= left + width + MARGIN && y >= top - MARGIN && y <= top + height + MARGIN;
  return isInside ? kind + 1 - width * height : 0;
}

function overlapOf(a: Box, b: Box): number {
  const width = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const height = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  const both = Math.max(0, width) * Math.max(0, height);
  return both / Math.max(1e-12, a[2] * a[3] + b[2] * b[3] - both);
}

function boxAround({ x, y }: BikePoint): Box {
  const from = (at: number): number => Math.min(1 - BARE_SIZE, Math.max(0, at - BARE_SIZE / 2));
  return [from(x), from(y), BARE_SIZE, BARE_SIZE];
}
