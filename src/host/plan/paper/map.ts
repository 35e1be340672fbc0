/** The circuit on paper: track, ways, spots with what they look at, minutes of today's ways, a scale and north. */

import type { Point as XY } from '../../../core/numeric/localPlane.js';
import { type CircuitDrawing, drawCircuit, sheetOf } from '../../../core/plan/circuit/draw/drawCircuit.js';
import { minutesOnRoute } from '../../../core/plan/circuit/draw/minutesOnRoute.js';
import type { Box } from '../../../core/plan/circuit/draw/placeLabels.js';
import type { Place } from '../../../core/plan/circuit/types.js';
import type { RunSheet, SheetMap } from '../../../core/plan/sheet/types.js';
import { BAND, EDGE, INK, INK_3, type Pen, type Point, WHITE } from './pen.js';

export const MAP_WIDTH_PX = 262;

/** Where on the page the map stands. */
export interface MapPlace {
  readonly left: number;
  readonly top: number;
  readonly height: number;
}

const LOOK_PX = 40;
const LOOK_HALF_DEG = 16;

export function drawMap(pen: Pen, { circuit, minutes }: SheetMap, stands: RunSheet['stands'], place: MapPlace): void {
  const { left, top, height } = place;
  const sheet = sheetOf(circuit, MAP_WIDTH_PX, height);
  const drawing = drawCircuit(circuit, MAP_WIDTH_PX, height, undefined, sheet);
  const on = ({ x, y }: XY): Point => [left + x, top + y];
  const at = (ground: Place): Point => on(sheet.toSheet(ground));
  pen.clipped(left, top, MAP_WIDTH_PX, height, () => {
    for (const way of circuit.ways)
      pen.line(way.line.map(at), way.kind === 'path' ? { width: 1.4, dash: [1.5, 3] } : { width: 1.1, dash: [6, 3] });
    const track = circuit.centreline.map(at);
    pen.shape(track, { ink: INK, width: 7 });
    pen.shape(track, { ink: WHITE, width: 4.6 });
    for (const crossing of drawing.crossings) drawCrossing(pen, on(crossing), crossing.headingDeg);
    drawStart(pen, on(drawing.start), drawing.start.headingDeg);
    for (const spot of drawing.spots) drawLook(pen, on(spot), spot.viewAzimuthDeg);
    drawVan(pen, on(drawing.paddock));
    const spots = new Map(drawing.spots.map((spot) => [spot.id, on(spot)]));
    const gone = minutes.flatMap(({ from, to, minutes }) => {
      const [a, b] = [spots.get(from), spots.get(to)];
      return a === undefined || b === undefined ? [] : [{ a, b, minutes }];
    });
    for (const { a, b } of gone) pen.line([a, b], { ink: INK_3, width: 0.6 });
    const stood = new Set(stands.map(({ spot }) => spot.id));
    for (const spot of drawing.spots) drawSpot(pen, on(spot), spot.number, stood.has(spot.id));
    const boxes = minuteBoxes(gone, [...spots.values(), on(drawing.paddock)], (words) => pen.widthOf(words, LETTERS));
    for (const [i, box] of boxes.entries()) drawMinutes(pen, box, wordsOf(gone[i]!));
  });
  drawScale(pen, drawing.scale, left + 4, top + height - 8);
  drawNorth(pen, left + MAP_WIDTH_PX - 12, top + height - 8);
}

/** Rails on either side of the way, where it gets over the track or under it. */
function drawCrossing(pen: Pen, [x, y]: Point, headingDeg: number): void {
  const [east, north] = directionOf(headingDeg);
  for (const side of [-1, 1]) {
    const [middleX, middleY] = [x + side * 3.5 * east, y - side * 3.5 * north];
    pen.line(
      [
        [middleX - 7 * north, middleY - 7 * east],
        [middleX + 7 * north, middleY + 7 * east],
      ],
      { width: 1.1 },
    );
  }
}

/** A bar across the track at the start, and an arrow the way the bikes go. */
function drawStart(pen: Pen, [x, y]: Point, headingDeg: number): void {
  const [east, north] = directionOf(headingDeg);
  pen.line(
    [
      [x + north * 9, y + east * 9],
      [x - north * 9, y - east * 9],
    ],
    { width: 3 },
  );
  const tip: Point = [x + east * 22, y - north * 22];
  const wing = (deg: number): Point => {
    const [e, n] = directionOf(headingDeg + deg);
    return [tip[0] + e * 6, tip[1] - n * 6];
  };
  pen.line([[x + east * 6, y - north * 6], tip], { width: 1.4 });
  pen.line([wing(150), tip, wing(-150)], { width: 1.4 });
}

const directionOf = (azimuthDeg: number): readonly [east: number, north: number] => [
  Math.sin((azimuthDeg * Math.PI) / 180),
  Math.cos((azimuthDeg * Math.PI) / 180),
];

function drawLook(pen: Pen, [x, y]: Point, azimuthDeg: number): void {
  const edge = (deg: number): Point => {
    const [east, north] = directionOf(azimuthDeg + deg);
    return [x + east * LOOK_PX, y - north * LOOK_PX];
  };
  const rim = [-1, -0.5, 0, 0.5, 1].map((share) => edge(share * LOOK_HALF_DEG));
  pen.shape([[x, y], ...rim], { fill: INK, fillOpacity: 0.16 });
}

/** A rim stands about those of today's plan. */
function drawSpot(pen: Pen, [x, y]: Point, number: number, isStoodAt: boolean): void {
  if (isStoodAt) pen.disc(x, y, 12.5, { fill: WHITE, ink: INK, width: 1 });
  pen.disc(x, y, 9.4, { fill: INK });
  pen.text(String(number), x, y + 4.4, { face: 'strong', size: 12.5, ink: WHITE, align: 'middle' });
}

function drawVan(pen: Pen, [x, y]: Point): void {
  pen.box(x - 12, y - 7, 24, 14, { fill: BAND, ink: EDGE, width: 0.75 });
  pen.text('van', x, y + 4, { size: 12, align: 'middle' });
}

const MINUTES_PX = 14;
const LETTERS = { size: 12 };

const pointOf = ([x, y]: Point): XY => ({ x, y });

/** The rim of a spot of today's plan is the widest mark. */
const markBox = ([x, y]: Point): Box => ({ x: x - 13, y: y - 13, width: 26, height: 26 });

interface Gone {
  readonly a: Point;
  readonly b: Point;
  readonly minutes: number;
}

const wordsOf = ({ minutes }: Gone): string => `${minutes} min`;

/** Along each hairline where they hide no mark and no other minutes, as the desk's map does. Rule PL118. */
export function minuteBoxes(
  gone: readonly Gone[],
  marks: readonly Point[],
  widthOf: (words: string) => number,
): readonly Box[] {
  const legs = gone.map((one) => ({ points: [pointOf(one.a), pointOf(one.b)], words: wordsOf(one) }));
  return minutesOnRoute(legs, marks.map(markBox), { height: MINUTES_PX, widthOf });
}

/** Along a straight hairline: which two spots, not where the way goes. */
function drawMinutes(pen: Pen, { x, y, width, height }: Box, words: string): void {
  pen.box(x, y, width, height, { fill: WHITE });
  pen.text(words, x + width / 2, y + 11, { size: LETTERS.size, align: 'middle' });
}

function drawScale(pen: Pen, { metres, length }: CircuitDrawing['scale'], x: number, y: number): void {
  pen.line(
    [
      [x, y - 5],
      [x, y],
      [x + length, y],
      [x + length, y - 5],
    ],
    { width: 1.2 },
  );
  pen.text(`${metres} m`, x + length + 5, y, { size: 12, ink: INK_3 });
}

function drawNorth(pen: Pen, x: number, y: number): void {
  pen.line(
    [
      [x, y],
      [x, y - 24],
    ],
    { width: 1.3 },
  );
  pen.line(
    [
      [x - 4, y - 18],
      [x, y - 24],
      [x + 4, y - 18],
    ],
    { width: 1.3 },
  );
  pen.text('N', x, y - 28, { size: 12, ink: INK_3, align: 'middle' });
}
