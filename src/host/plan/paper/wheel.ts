/** The coverage wheel at 20 px: filled is good, slit is unsure, a red outline was missed, a line is still to come. */
import type { WheelArc } from '../../../core/plan/sheet/types.js';
import { EDGE, INK, type Pen, type Point, RED } from './pen.js';

const OUTER_PX = 9.6;
const THICK_PX = 4.3;
const GAP_PX = 1.9;
const SLITS = 3;

/** Clockwise from twelve, the first arc's middle there. */
export function drawWheel(pen: Pen, arcs: readonly WheelArc[], x: number, y: number): void {
  const each = (2 * Math.PI) / arcs.length;
  const gap = arcs.length > 1 ? GAP_PX / (OUTER_PX - THICK_PX / 2) : 0;
  for (const [i, arc] of arcs.entries()) {
    const [from, to] = [i * each - each / 2 + gap / 2, i * each + each / 2 - gap / 2];
    const ring = (a: number, b: number) => segment(x, y, a, b, OUTER_PX, OUTER_PX - THICK_PX);
    if (arc === 'good') pen.shape(ring(from, to), { fill: INK });
    else if (arc === 'missed') pen.shape(ring(from, to), { ink: RED, width: 1.1 });
    else if (arc === 'to-come') pen.line(along(x, y, from, to, OUTER_PX - THICK_PX / 2), { ink: EDGE });
    else {
      const pitch = (to - from) / (SLITS * 2 - 1);
      for (let n = 0; n < SLITS; n++) pen.shape(ring(from + n * 2 * pitch, from + (n * 2 + 1) * pitch), { fill: INK });
    }
  }
}

const STEPS = 8;

const along = (x: number, y: number, from: number, to: number, radius: number): readonly Point[] =>
  Array.from({ length: STEPS + 1 }, (_, i) => {
    const angle = from + ((to - from) * i) / STEPS;
    return [x + radius * Math.sin(angle), y - radius * Math.cos(angle)] as const;
  });

const segment = (x: number, y: number, from: number, to: number, outer: number, inner: number): readonly Point[] => [
  ...along(x, y, from, to, outer),
  ...along(x, y, to, from, inner),
];
