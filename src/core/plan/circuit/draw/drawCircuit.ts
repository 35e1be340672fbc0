/**
 * A circuit as lines and places on a sheet, for the screen and for print alike: north is up, x to the right, y down, in the
 * sheet's own units. Rule PL111.
 */
import type { SpotId } from '../../../ids.js';
import type { Point } from '../../../numeric/localPlane.js';
import type { Degrees } from '../../../units.js';
import { headingAt, layTrack, nearestOnTrack, placeOf, pointAlong, pointOf, type Track } from '../track.js';
import type { Circuit, Place, Way } from '../types.js';
import { meetsTrack } from '../ways/meetsTrack.js';
import { type Box, type Mark, placeLabels } from './placeLabels.js';

export interface DrawnWay {
  readonly id: string;
  readonly kind: Way['kind'];
  readonly crossing: Way['crossing'];
  readonly needsPermit: boolean;
  /** SVG path data. */
  readonly d: string;
}

export interface DrawnMark {
  readonly name: string;
  readonly x: number;
  readonly y: number;
  /** Null where there is no room for it. */
  readonly label: Box | null;
}

/** Where a way gets over the track or under it. */
export interface DrawnCrossing extends DrawnMark {
  /** Of the bikes there. */
  readonly headingDeg: Degrees;
}

export interface DrawnSpot extends DrawnMark {
  readonly id: SpotId;
  readonly number: number;
  readonly viewAzimuthDeg: Degrees;
}

export interface CircuitDrawing {
  readonly width: number;
  readonly height: number;
  /** SVG path data of the closed line, and how wide the track is. */
  readonly track: string;
  readonly trackWidth: number;
  readonly start: { readonly x: number; readonly y: number; readonly headingDeg: Degrees };
  readonly ways: readonly DrawnWay[];
  readonly spots: readonly DrawnSpot[];
  readonly bends: readonly DrawnMark[];
  readonly crossings: readonly DrawnCrossing[];
  readonly paddock: DrawnMark;
  /** A round length of ground and how long it is drawn. */
  readonly scale: { readonly metres: number; readonly length: number };
}

export interface Lettering {
  readonly height: number;
  widthOf(text: string): number;
}
/** A condensed face of 12 units: half of its height a letter. */
export const USUAL_LETTERING: Lettering = { height: 14, widthOf: (text) => 6.2 * text.length };

const SPOT_RADIUS = 9;
const BEND_RADIUS = 2;
const CROSSING_RADIUS = 7;
/** Kept free round the drawing, as a share of the sheet's shorter side. */
const MARGIN = 0.07;

/** The ground under the sheet: for places of a tap or a drag, and for the corners of an image laid under it. */
export interface Sheet {
  readonly perMetre: number;
  toSheet(place: Place): Point;
  toPlace(onSheet: Point): Place;
}

export function sheetOf(circuit: Circuit, width: number, height: number): Sheet {
  const track = layTrack(circuit);
  const all = [
    ...track.points,
    ...[circuit.paddock, ...circuit.spots.map(({ place }) => place), ...circuit.ways.flatMap(({ line }) => line)].map(
      (place) => pointOf(track.plane, place),
    ),
  ];
  const [west, east] = [Math.min(...all.map(({ x }) => x)), Math.max(...all.map(({ x }) => x))];
  const [south, north] = [Math.min(...all.map(({ y }) => y)), Math.max(...all.map(({ y }) => y))];
  const free = 1 - 2 * MARGIN;
  const margin = MARGIN * Math.min(width, height);
  const perMetre = Math.min(
    Math.max(width - 2 * margin, free) / Math.max(1, east - west),
    Math.max(height - 2 * margin, free) / Math.max(1, north - south),
  );
  const [midX, midY] = [(west + east) / 2, (south + north) / 2];
  return {
    perMetre,
    toSheet: (place) => {
      const point = pointOf(track.plane, place);
      return { x: width / 2 + (point.x - midX) * perMetre, y: height / 2 - (point.y - midY) * perMetre };
    },
    toPlace: ({ x, y }) =>
      placeOf(track.plane, { x: midX + (x - width / 2) / perMetre, y: midY - (y - height / 2) / perMetre }),
  };
}

/** The same ground drawn larger, with a place in the middle. */
export function closeUp(sheet: Sheet, middle: Place, times: number, width: number, height: number): Sheet {
  const at = sheet.toSheet(middle);
  return {
    perMetre: sheet.perMetre * times,
    toSheet: (place) => {
      const { x, y } = sheet.toSheet(place);
      return { x: width / 2 + (x - at.x) * times, y: height / 2 + (y - at.y) * times };
    },
    toPlace: ({ x, y }) => sheet.toPlace({ x: at.x + (x - width / 2) / times, y: at.y + (y - height / 2) / times }),
  };
}

/** @param sheet held still while something is dragged; absent: all of the circuit fills the sheet. */
export function drawCircuit(
  circuit: Circuit,
  width: number,
  height: number,
  lettering: Lettering = USUAL_LETTERING,
  sheet: Sheet = sheetOf(circuit, width, height),
): CircuitDrawing {
  const track = layTrack(circuit);
  const start = sheet.toSheet(circuit.centreline[0]!);
  const spots = circuit.spots.map((spot) => ({ ...spot, ...sheet.toSheet(spot.place) }));
  const bends = circuit.bends.map(({ name, alongM }) => ({ name, ...sheet.toSheet(placeAlong(track, alongM)) }));
  const crossings = crossingsOf(circuit, track, sheet);
  const paddock = { name: 'Paddock', ...sheet.toSheet(circuit.paddock) };
  const markOf = ({ x, y, name }: { x: number; y: number; name: string }, radius: number): Mark => ({
    x,
    y,
    radius,
    words: { width: lettering.widthOf(name), height: lettering.height },
  });
  const marks = [
    ...spots.map((spot) => markOf(spot, SPOT_RADIUS)),
    markOf(paddock, SPOT_RADIUS),
    ...bends.map((bend) => markOf(bend, BEND_RADIUS)),
    ...crossings.map((crossing) => markOf(crossing, CROSSING_RADIUS)),
  ];
  const labels = placeLabels(marks, lineDots(track, sheet), { x: 0, y: 0, width, height });
  return {
    width,
    height,
    track: `${pathOf(circuit.centreline.map(sheet.toSheet))}Z`,
    trackWidth: rounded(2 * track.halfWidthM * sheet.perMetre),
    start: { x: rounded(start.x), y: rounded(start.y), headingDeg: headingAt(track, 0) },
    ways: circuit.ways.map((way) => drawWay(way, sheet)),
    spots: spots.map(({ id, number, name, viewAzimuthDeg, x, y }, i) => ({
      id,
      number,
      name,
      viewAzimuthDeg,
      x: rounded(x),
      y: rounded(y),
      label: labels[i]!,
    })),
    paddock: { ...paddock, x: rounded(paddock.x), y: rounded(paddock.y), label: labels[spots.length]! },
    bends: bends.map(({ name, x, y }, i) => ({
      name,
      x: rounded(x),
      y: rounded(y),
      label: labels[spots.length + 1 + i]!,
    })),
    crossings: crossings.map((crossing, i) => ({
      ...crossing,
      label: labels[spots.length + 1 + bends.length + i]!,
    })),
    scale: scaleOf(sheet.perMetre, width),
  };
}

const placeAlong = (track: Track, alongM: number): Place => placeOf(track.plane, pointAlong(track, alongM));

function drawWay({ id, kind, crossing, line, onFoot, byVehicle }: Way, sheet: Sheet): DrawnWay {
  const needsPermit = onFoot === 'with-permit' || byVehicle === 'with-permit';
  return { id, kind, crossing, needsPermit, d: pathOf(line.map(sheet.toSheet)) };
}

function crossingsOf(circuit: Circuit, track: Track, sheet: Sheet): Omit<DrawnCrossing, 'label'>[] {
  return circuit.ways.flatMap((way) => {
    if (way.crossing === 'none') return [];
    return meetsTrack(track, { ...way, crossing: 'none' }).map((point) => {
      const { x, y } = sheet.toSheet(placeOf(track.plane, point));
      const headingDeg = headingAt(track, nearestOnTrack(track, point).alongM);
      return { name: way.crossing, x: rounded(x), y: rounded(y), headingDeg };
    });
  });
}

/** Of the line, close enough that no label slips between. */
const lineDots = (track: Track, sheet: Sheet): Point[] => {
  const count = Math.ceil(track.lengthM * sheet.perMetre) / 4;
  return Array.from({ length: Math.ceil(count) }, (_, i) =>
    sheet.toSheet(placeAlong(track, (i * track.lengthM) / count)),
  );
};

/** To a hundredth: a sheet is read by people. */
const rounded = (value: number): number => Math.round(value * 100) / 100;
const pathOf = (points: readonly Point[]): string =>
  points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${rounded(x)} ${rounded(y)}`).join('');

/** 1, 2 or 5 with noughts, at most a quarter of the sheet. */
function scaleOf(perMetre: number, width: number): CircuitDrawing['scale'] {
  const most = width / 4 / perMetre;
  const power = 10 ** Math.floor(Math.log10(most));
  const metres = ([5, 2, 1].find((step) => step * power <= most) ?? 1) * power;
  return { metres, length: rounded(metres * perMetre) };
}
