/**
 * What is seen from a spot: where its view meets the line, how the bike is turned there, which side of it shows. What a person
 * said of the spot stands before what the drawing gives. Rules PL103, PL104.
 */
import type { Point } from '../../numeric/localPlane.js';
import { metresOf } from '../../units.js';
import { azimuthFrom, stepFrom, turnOf } from './angles.js';
import { momentsAt } from './bends.js';
import { distanceBetween, meetingShares, nearestShare, pointBetween } from './segments.js';
import { headingAt, layTrack, pointAlong, pointOf, radiusAt, type Track, wrapAlong } from './track.js';
import type { Aspect, BikeSide, Circuit, CircuitSpot, SpotView } from './types.js';

/** No picture is taken further than this. Common practice. */
const FURTHEST_M = 500;
/** A view that passes the line by is taken for one of the nearest bit of line this far off it. */
const WIDEST_OFF_DEG = 30;

/** Half of an eighth of the compass: the four aspects take equal parts. */
const EIGHTH_DEG = 45;

interface Meeting {
  readonly alongM: number;
  readonly distanceM: number;
}

/** Null where no bit of the line lies before the lens. */
export function viewOf(circuit: Circuit, spot: CircuitSpot, track: Track = layTrack(circuit)): SpotView | null {
  const from = pointOf(track.plane, spot.place);
  const meeting = meetingOf(track, from, spot);
  if (meeting === null) return null;
  const at = pointAlong(track, meeting.alongM);
  const headingDeg = headingAt(track, meeting.alongM);
  const seen = seenOf(azimuthFrom(from, at), headingDeg);
  return {
    spot,
    alongM: wrapAlong(track, meeting.alongM),
    distanceM: spot.distanceM ?? metresOf(meeting.distanceM),
    headingDeg,
    aspect: spot.aspect ?? seen.aspect,
    sideSeen: spot.sideSeen ?? seen.sideSeen,
    radiusM: radiusAt(track, meeting.alongM),
    moments: spot.moments ?? momentsAt(track, circuit.bends, meeting.alongM),
  };
}

/**
 * How a bike that goes along `headingDeg` is turned to a lens that points along `viewDeg`. Head-on and going away are within
 * 22.5° of the view; a bike seen three-quarter from behind counts as going away, and still shows its side.
 */
export function seenOf(viewDeg: number, headingDeg: number): { aspect: Aspect; sideSeen: BikeSide | 'both' } {
  /** From the bike, clockwise from its heading, where the lens is. */
  const lens = turnOf(viewDeg + 180 - headingDeg);
  const off = Math.abs(lens);
  const aspects: readonly Aspect[] = ['head-on', 'three-quarter', 'side-on', 'going-away'];
  const aspect = aspects[Math.min(3, Math.floor((off + EIGHTH_DEG / 2) / EIGHTH_DEG))]!;
  const isStraight = off <= EIGHTH_DEG / 2 || off >= 180 - EIGHTH_DEG / 2;
  return { aspect, sideSeen: isStraight ? 'both' : lens > 0 ? 'right' : 'left' };
}

function meetingOf(track: Track, from: Point, spot: CircuitSpot): Meeting | null {
  const hits = hitsOf(track, from, spot.viewAzimuthDeg);
  if (hits.length === 0) return leastOffOf(track, from, spot.viewAzimuthDeg);
  const { distanceM: said } = spot;
  const wrongness = (hit: Meeting): number => (said === undefined ? hit.distanceM : Math.abs(hit.distanceM - said));
  return hits.reduce((best, hit) => (wrongness(hit) < wrongness(best) ? hit : best));
}

function hitsOf(track: Track, from: Point, viewDeg: number): Meeting[] {
  const end = stepFrom(from, viewDeg, FURTHEST_M);
  return track.points.flatMap((a, i) => {
    const b = track.points[(i + 1) % track.points.length]!;
    const shares = meetingShares(from, end, a, b);
    if (shares === null) return [];
    return [{ alongM: track.alongs[i]! + shares[1] * distanceBetween(a, b), distanceM: shares[0] * FURTHEST_M }];
  });
}

function leastOffOf(track: Track, from: Point, viewDeg: number): Meeting | null {
  const seen = track.points.flatMap((a, i) => {
    const b = track.points[(i + 1) % track.points.length]!;
    return lookedAt(from, a, b).map(({ point, metres }) => ({
      alongM: track.alongs[i]! + metres,
      distanceM: distanceBetween(from, point),
      offDeg: Math.abs(turnOf(azimuthFrom(from, point) - viewDeg)),
    }));
  });
  const before = seen.filter(({ offDeg, distanceM }) => offDeg <= WIDEST_OFF_DEG && distanceM <= FURTHEST_M);
  return before.length === 0 ? null : before.reduce((best, one) => (one.offDeg < best.offDeg ? one : best));
}

/** Places about every five metres of a piece of the line, as far as they can be within reach. */
function lookedAt(from: Point, a: Point, b: Point): { readonly point: Point; readonly metres: number }[] {
  const lengthM = distanceBetween(a, b);
  const footM = nearestShare(from, a, b) * lengthM;
  const first = Math.max(0, footM - FURTHEST_M);
  const stretch = Math.min(lengthM, footM + FURTHEST_M) - first;
  const steps = Math.ceil(stretch / 5);
  return Array.from({ length: steps }, (_, k) => {
    const metres = first + (k * stretch) / steps;
    return { point: pointBetween(a, b, metres / lengthM), metres };
  });
}
