/** The circuit on paper: track, ways, spots with what they look at, minutes of today's ways, a scale and north. */
import type { RunSheet, SheetMap, SheetPoint } from '../../../core/plan/sheet/types.js';
import { BAND, EDGE, INK, INK_3, type Pen, type Point, WHITE } from './pen.js';

export const MAP_WIDTH_PX = 262;

/** Where on the page the map stands. */
export interface MapPlace {
  readonly left: number;
  readonly top: number;
  readonly height: number;
}

const MARGIN_PX = 22;
const LOOK_PX = 40;
const LOOK_HALF_DEG = 16;

export function drawMap(pen: Pen, map: SheetMap, stands: RunSheet['stands'], place: MapPlace): void {
  const { left, top, height } = place;
  const { at, metreInPx } = fitted(map, place);
  pen.clipped(left, top, MAP_WIDTH_PX, height, () => {
    for (const way of map.ways)
      pen.line(way.line.map(at), way.kind === 'path' ? { width: 1.4, dash: [1.5, 3] } : { width: 1.1, dash: [6, 3] });
    const track = map.track.map(at);
    pen.shape(track, { ink: INK, width: 7 });
    pen.shape(track, { ink: WHITE, width: 4.6 });
    drawStart(pen, map, at);
    for (const { at: place, viewAzimuthDeg } of map.spots) drawLook(pen, at(place), viewAzimuthDeg);
    drawVan(pen, at(map.paddock));
    for (const { from, to } of map.minutes) pen.line([at(from), at(to)], { ink: INK_3, width: 0.6 });
    const stood = new Set(stands.map(({ spot }) => spot.id));
    for (const { spot, at: place } of map.spots) drawSpot(pen, at(place), spot.number, stood.has(spot.id));
    for (const { from, to, minutes } of map.minutes) drawMinutes(pen, at(from), at(to), minutes);
  });
  drawScale(pen, metreInPx, left + 4, top + height - 8);
  drawNorth(pen, left + MAP_WIDTH_PX - 12, top + height - 8);
}

function fitted(map: SheetMap, { left, top, height }: MapPlace) {
  const all = [...map.track, ...map.spots.map(({ at }) => at), map.paddock];
  const [xs, ys] = [all.map(({ x }) => x), all.map(({ y }) => y)];
  const [west, east, south, north] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const across = (MAP_WIDTH_PX - 2 * MARGIN_PX) / Math.max(1, east - west);
  const up = (height - 2 * MARGIN_PX) / Math.max(1, north - south);
  const metreInPx = Math.min(across, up);
  const [middleX, middleY] = [left + MAP_WIDTH_PX / 2, top + height / 2];
  const at = ({ x, y }: SheetPoint): Point => [
    middleX + (x - (west + east) / 2) * metreInPx,
    middleY - (y - (south + north) / 2) * metreInPx,
  ];
  return { at, metreInPx };
}

/** A bar across the track at the start, and an arrow the way the bikes go. */
function drawStart(pen: Pen, map: SheetMap, at: (point: SheetPoint) => Point): void {
  const [x, y] = at(map.track[0]!);
  const [east, north] = directionOf(map.startsTowardsDeg);
  pen.line(
    [
      [x + north * 9, y + east * 9],
      [x - north * 9, y - east * 9],
    ],
    { width: 3 },
  );
  const tip: Point = [x + east * 22, y - north * 22];
  const wing = (deg: number): Point => {
    const [e, n] = directionOf(map.startsTowardsDeg + deg);
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

/** Half-way along a straight hairline: which two spots, not where the way goes. */
function drawMinutes(pen: Pen, from: Point, to: Point, minutes: number): void {
  const [x, y] = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
  const words = `${minutes} min`;
  const width = pen.widthOf(words, { size: 12 }) + 4;
  pen.box(x - width / 2, y - 7, width, 14, { fill: WHITE });
  pen.text(words, x, y + 4, { size: 12, align: 'middle' });
}

const ROUND_METRES = [50, 100, 200, 500, 1000, 2000];

function drawScale(pen: Pen, metreInPx: number, x: number, y: number): void {
  const metres = ROUND_METRES.findLast((one) => one * metreInPx <= 70) ?? ROUND_METRES[0]!;
  const width = metres * metreInPx;
  pen.line(
    [
      [x, y - 5],
      [x, y],
      [x + width, y],
      [x + width, y - 5],
    ],
    { width: 1.2 },
  );
  pen.text(`${metres} m`, x + width + 5, y, { size: 12, ink: INK_3 });
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
