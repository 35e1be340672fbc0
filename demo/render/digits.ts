/** Race numbers as strokes: ten figures drawn for this project as lines in a box 1 high and 0.56 wide. */
import { clamp, hypot } from './maths.js';

type Stroke = readonly (readonly [number, number])[];
const W = 0.56;
const M = W / 2;
/** Lines run through the middle of the stroke; y up from 0 to 1. */
const FIGURES: Readonly<Record<string, readonly Stroke[]>> = {
  '0': [
    [
      [0.15, 0.09],
      [0, 0.25],
      [0, 0.75],
      [0.15, 0.91],
      [W - 0.15, 0.91],
      [W, 0.75],
      [W, 0.25],
      [W - 0.15, 0.09],
      [0.15, 0.09],
    ],
  ],
  '1': [
    [
      [0.08, 0.74],
      [M, 0.91],
      [M, 0.09],
    ],
  ],
  '2': [
    [
      [0, 0.76],
      [0.13, 0.91],
      [W - 0.13, 0.91],
      [W, 0.76],
      [W, 0.6],
      [0, 0.09],
      [W, 0.09],
    ],
  ],
  '3': [
    [
      [0, 0.91],
      [W, 0.91],
      [0.24, 0.56],
      [W - 0.12, 0.54],
      [W, 0.4],
      [W, 0.22],
      [W - 0.13, 0.09],
      [0.13, 0.09],
      [0, 0.22],
    ],
  ],
  '4': [
    [
      [W - 0.14, 0.09],
      [W - 0.14, 0.91],
      [0, 0.33],
      [W + 0.02, 0.33],
    ],
  ],
  '5': [
    [
      [W, 0.91],
      [0.04, 0.91],
      [0, 0.56],
      [W - 0.14, 0.58],
      [W, 0.44],
      [W, 0.22],
      [W - 0.14, 0.09],
      [0.12, 0.09],
      [0, 0.2],
    ],
  ],
  '6': [
    [
      [W - 0.06, 0.91],
      [0.16, 0.8],
      [0, 0.5],
      [0, 0.24],
      [0.14, 0.09],
      [W - 0.14, 0.09],
      [W, 0.24],
      [W, 0.4],
      [W - 0.14, 0.53],
      [0.14, 0.53],
      [0, 0.4],
    ],
  ],
  '7': [
    [
      [0, 0.91],
      [W, 0.91],
      [0.2, 0.09],
    ],
  ],
  '8': [
    [
      [0.14, 0.53],
      [0.02, 0.66],
      [0.02, 0.79],
      [0.15, 0.91],
      [W - 0.15, 0.91],
      [W - 0.02, 0.79],
      [W - 0.02, 0.66],
      [W - 0.14, 0.53],
      [0.14, 0.53],
      [0, 0.39],
      [0, 0.22],
      [0.14, 0.09],
      [W - 0.14, 0.09],
      [W, 0.22],
      [W, 0.39],
      [W - 0.14, 0.53],
    ],
  ],
  '9': [
    [
      [0.06, 0.09],
      [W - 0.16, 0.2],
      [W, 0.5],
      [W, 0.76],
      [W - 0.14, 0.91],
      [0.14, 0.91],
      [0, 0.76],
      [0, 0.6],
      [0.14, 0.47],
      [W - 0.14, 0.47],
      [W, 0.6],
    ],
  ],
};
/** From one figure's left edge to the next: width, stroke and a gap. */
const ADVANCE = W + 0.3;
const HALF_STROKE = 0.095;

function strokeDistance(stroke: Stroke, x: number, y: number): number {
  let nearest = 1e9;
  for (let i = 0; i + 1 < stroke.length; i++) {
    const [ax, ay] = stroke[i]!;
    const [bx, by] = stroke[i + 1]!;
    const ex = bx - ax;
    const ey = by - ay;
    const t = clamp(((x - ax) * ex + (y - ay) * ey) / (ex * ex + ey * ey));
    nearest = Math.min(nearest, hypot(x - ax - ex * t, y - ay - ey * t));
  }
  return nearest;
}

/** Width of a number when its height is 1. */
export const numberWidth = (text: string): number => text.length * ADVANCE - (ADVANCE - W);

/** Distance to the ink of `text`, centred on 0, height 1; negative inside. */
export function numberDistance(text: string, x: number, y: number): number {
  const fromLeft = x + numberWidth(text) / 2;
  const index = Math.min(text.length - 1, Math.max(0, Math.floor((fromLeft + (ADVANCE - W) / 2) / ADVANCE)));
  const strokes = FIGURES[text[index] ?? ''];
  if (!strokes) return 1;
  return Math.min(...strokes.map((s) => strokeDistance(s, fromLeft - index * ADVANCE, y + 0.5))) - HALF_STROKE;
}
