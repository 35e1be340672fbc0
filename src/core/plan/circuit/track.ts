/**
 * The line the bikes take, laid into a plane: length, places along it, heading, radius. Metres along are counted on the drawn
 * pieces from the start line. Rule PL101.
 *
 * Heading is a running line over the metres: the turn at each drawn point is spread over half of the pieces beside it, at most
 * 15 m each way, so that the whole turn of a bend stays as drawn. The curvature at a place is the turn within 12 m either
 * side, per metre: right on circles and on clothoids, whose curvature runs linearly, but for the chords' own error
 * (step² / 24 R²: 0.5 % at a radius of 30 m drawn every 10 m). Bends tighter than 10 m come out too wide.
 */
import { type LocalPlane, localPlane, type Point } from '../../numeric/localPlane.js';
import { type Degrees, degreesOf, type Metres, metresOf } from '../../units.js';
import { azimuthFrom, azimuthOf, turnOf } from './angles.js';
import { distanceBetween, nearestShare, pointBetween } from './segments.js';
import type { Circuit, Place } from './types.js';

const SPREAD_M = 15;
const WINDOW_M = 12;
/** Flatter than this is called straight. */
const STRAIGHT_M = 1000;
/** Usual width of a circuit where nobody said: common practice. */
export const USUAL_WIDTH_M = 12;

export interface Track {
  readonly plane: LocalPlane;
  /** The ring, first point not repeated, no two neighbours in one place. */
  readonly points: readonly Point[];
  /** Metres along of each point. */
  readonly alongs: readonly number[];
  readonly lengthM: Metres;
  readonly halfWidthM: number;
  /** Knots of the running heading, degrees not wrapped. */
  readonly headings: readonly { readonly alongM: number; readonly deg: number }[];
}

export const pointOf = (plane: LocalPlane, place: Place): Point => plane.toPoint(place.longitudeDeg, place.latitudeDeg);
export const placeOf = (plane: LocalPlane, point: Point): Place => {
  const { longitudeDeg, latitudeDeg } = plane.toPlace(point);
  return { longitudeDeg: degreesOf(longitudeDeg), latitudeDeg: degreesOf(latitudeDeg) };
};
/** To a centimetre: more digits are none of a drawing's. */
export const roundedPlace = ({ longitudeDeg, latitudeDeg }: Place): Place => ({
  longitudeDeg: degreesOf(Math.round(longitudeDeg * 1e7) / 1e7),
  latitudeDeg: degreesOf(Math.round(latitudeDeg * 1e7) / 1e7),
});
/** The plane that touches the ground at the first of the places. */
export const planeAt = (place: Place): LocalPlane => localPlane(place.longitudeDeg, place.latitudeDeg);

export function layTrack(circuit: Pick<Circuit, 'centreline' | 'widthM'>): Track {
  const plane = planeAt(circuit.centreline[0]!);
  const all = circuit.centreline.map((place) => pointOf(plane, place));
  const points = all.filter((point, i) => distanceBetween(point, all[(i + 1) % all.length]!) > 0);
  const steps = points.map((point, i) => distanceBetween(point, points[(i + 1) % points.length]!));
  const alongs: number[] = [];
  let sum = 0;
  for (const step of steps) {
    alongs.push(sum);
    sum += step;
  }
  const lengthM = metresOf(sum);
  return {
    plane,
    points,
    alongs,
    lengthM,
    halfWidthM: (circuit.widthM ?? USUAL_WIDTH_M) / 2,
    headings: headingsOf(points, steps, alongs, lengthM),
  };
}

function headingsOf(
  points: readonly Point[],
  steps: readonly number[],
  alongs: readonly number[],
  lengthM: number,
): { alongM: number; deg: number }[] {
  const count = points.length;
  const azimuths = points.map((point, i) => azimuthFrom(point, points[(i + 1) % count]!));
  const knots: { alongM: number; deg: number }[] = [];
  let deg: number = azimuths[count - 1]!;
  for (let i = 0; i < count; i++) {
    knots.push({ alongM: alongs[i]! - Math.min(SPREAD_M, steps[(i + count - 1) % count]! / 2), deg });
    deg += turnOf(azimuths[i]! - deg);
    knots.push({ alongM: alongs[i]! + Math.min(SPREAD_M, steps[i]! / 2), deg });
  }
  const wholeTurn = deg - knots[0]!.deg;
  knots.push({ alongM: knots[0]!.alongM + lengthM, deg: knots[0]!.deg + wholeTurn });
  return knots;
}

/** 0 up to the length: one lap on is the same place. */
export const wrapAlong = (track: Pick<Track, 'lengthM'>, alongM: number): Metres =>
  metresOf(((alongM % track.lengthM) + track.lengthM) % track.lengthM);

/** Last index whose value is at most `value`; 0 where there is none. */
function lastUpTo(count: number, at: (i: number) => number, value: number): number {
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (at(middle) <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}

export function pointAlong(track: Track, alongM: number): Point {
  const along = wrapAlong(track, alongM);
  const i = lastUpTo(track.alongs.length, (k) => track.alongs[k]!, along);
  const end = track.alongs[i + 1] ?? track.lengthM;
  const share = (along - track.alongs[i]!) / (end - track.alongs[i]!);
  return pointBetween(track.points[i]!, track.points[(i + 1) % track.points.length]!, share);
}

function runningHeading(track: Track, alongM: number): number {
  const { headings, lengthM } = track;
  const first = headings[0]!;
  const laps = Math.floor((alongM - first.alongM) / lengthM);
  const along = alongM - laps * lengthM;
  const i = Math.min(
    headings.length - 2,
    lastUpTo(headings.length, (k) => headings[k]!.alongM, along),
  );
  const [from, to] = [headings[i]!, headings[i + 1]!];
  const wide = to.alongM - from.alongM;
  const deg = wide === 0 ? to.deg : from.deg + ((along - from.alongM) / wide) * (to.deg - from.deg);
  return deg + laps * (headings.at(-1)!.deg - first.deg);
}

/** Where the bikes go at a place of the line. */
export const headingAt = (track: Track, alongM: number): Degrees => azimuthOf(runningHeading(track, alongM));

/** Turn per metre in radians, to the right positive, as the mean over some metres either side. */
export function curvatureAt(track: Track, alongM: number, windowM: number = WINDOW_M): number {
  const reach = Math.min(windowM, track.lengthM / 8);
  const turn = runningHeading(track, alongM + reach) - runningHeading(track, alongM - reach);
  return (turn * Math.PI) / 180 / (2 * reach);
}

/** Radius of the line; null where it is straight. */
export function radiusAt(track: Track, alongM: number): Metres | null {
  const radius = 1 / Math.abs(curvatureAt(track, alongM));
  return radius > STRAIGHT_M ? null : metresOf(radius);
}

export interface OnTrack {
  readonly alongM: Metres;
  readonly distanceM: Metres;
  readonly point: Point;
}

export function nearestOnTrack(track: Track, point: Point): OnTrack {
  const { points, alongs } = track;
  let [bestI, bestShare, bestM] = [0, 0, Number.POSITIVE_INFINITY];
  for (let i = 0; i < points.length; i++) {
    const [from, to] = [points[i]!, points[i + 1] ?? points[0]!];
    const share = nearestShare(point, from, to);
    const metres = Math.hypot(point.x - from.x - share * (to.x - from.x), point.y - from.y - share * (to.y - from.y));
    if (metres < bestM) [bestI, bestShare, bestM] = [i, share, metres];
  }
  const [from, to] = [points[bestI]!, points[bestI + 1] ?? points[0]!];
  return {
    alongM: wrapAlong(track, alongs[bestI]! + bestShare * distanceBetween(from, to)),
    distanceM: metresOf(bestM),
    point: pointBetween(from, to, bestShare),
  };
}

/** Area inside the ring with its sign, square metres: positive drawn anticlockwise. */
export const signedAreaOf = (ring: readonly Point[]): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    return sum + (p.x * q.y - q.x * p.y) / 2;
  }, 0);
