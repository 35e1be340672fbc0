/**
 * How the sun falls on what a lens sees from a spot.
 *
 * Angles are in three dimensions: the sun's height counts as much as its bearing, and a camera on a bank looks down. A sun
 * straight overhead is therefore side light everywhere. Front, side and back part at 60° and 120° off the line behind the
 * lens, low means below 12° and into the lens within 40° of the view: conventions of this program, not standards.
 * The bike is taken as upright; leaning turns it by up to 60°, towards the ground on the inside of a bend.
 */
import { type SunPlace, sunAt } from '../../numeric/solar.js';
import type { Degrees, EpochMs } from '../../units.js';
import type { SpotView } from '../circuit/types.js';
import type { LightFrom, Sky, SpotLight, SunPosition } from './types.js';

export const LIGHT_RULES = {
  frontUpToDeg: 60,
  backFromDeg: 120,
  lowBelowDeg: 12,
  intoLensWithinDeg: 40,
  /** The middle of the disc when its upper edge stands on the horizon. */
  upFromDeg: -16 / 60,
  /** Below this a shadow is longer than sixty heights: no end of it is to be seen. */
  shadowEndsFromDeg: 1,
} as const;

const RAD = Math.PI / 180;

/** East, north, up; of length 1. */
type Vector = readonly [east: number, north: number, up: number];

const vectorOf = (azimuthDeg: number, altitudeDeg: number): Vector => [
  Math.sin(azimuthDeg * RAD) * Math.cos(altitudeDeg * RAD),
  Math.cos(azimuthDeg * RAD) * Math.cos(altitudeDeg * RAD),
  Math.sin(altitudeDeg * RAD),
];

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export const lightAt = (view: SpotView, place: SunPlace, at: EpochMs, sky: Sky): SpotLight =>
  lightOf(view, sunAt(place, at), sky);

/** The same where the sun's position is known already. */
export const lightOf = (view: SpotView, sun: SunPosition, sky: Sky): SpotLight => {
  if (!isUp(sun)) return { kind: 'night' };
  const { azimuthDeg, altitudeDeg } = sun;
  const position = { azimuthDeg, altitudeDeg };
  if (sky === 'overcast') return { kind: 'even', sun: position };
  const toSun = vectorOf(azimuthDeg, altitudeDeg);
  const cosOffLens = -dot(toSun, viewVectorOf(view));
  const offLensDeg = (Math.acos(Math.min(1, Math.max(-1, cosOffLens))) / RAD) as Degrees;
  return {
    kind: 'sun',
    sun: position,
    offLensDeg,
    from: lightFrom(offLensDeg),
    onSide: dot(toSun, vectorOf(azimuthOfSide(view), 0)),
    isLowIntoLens: isLow(sun) && offLensDeg >= 180 - LIGHT_RULES.intoLensWithinDeg,
    shadowLength: altitudeDeg < LIGHT_RULES.shadowEndsFromDeg ? null : 1 / Math.tan(altitudeDeg * RAD),
    isSoft: sky === 'thin-cloud',
  };
};

export const isUp = ({ altitudeDeg }: SunPosition): boolean => altitudeDeg >= LIGHT_RULES.upFromDeg;
export const isLow = (sun: SunPosition): boolean => isUp(sun) && sun.altitudeDeg < LIGHT_RULES.lowBelowDeg;

const lightFrom = (offLensDeg: number): LightFrom => {
  if (offLensDeg <= LIGHT_RULES.frontUpToDeg) return 'front';
  return offLensDeg >= LIGHT_RULES.backFromDeg ? 'back' : 'side';
};

const viewVectorOf = ({ spot, distanceM }: SpotView): Vector =>
  vectorOf(spot.viewAzimuthDeg, -Math.atan2(spot.heightM ?? 0, distanceM) / RAD);

/**
 * Where what the lens sees of the bike looks to: its side; with both sides its front, or its tail when it goes away; at three
 * quarters half-way between the two.
 */
const azimuthOfSide = ({ spot, headingDeg, sideSeen, aspect }: SpotView): number => {
  const isGoing =
    aspect === 'going-away' || (aspect === 'three-quarter' && Math.cos((headingDeg - spot.viewAzimuthDeg) * RAD) > 0);
  const end = isGoing ? headingDeg + 180 : headingDeg;
  if (sideSeen === 'both') return end;
  const toSide = sideSeen === 'left' ? -90 : 90;
  const side = headingDeg + toSide;
  return aspect === 'three-quarter' ? side + (isGoing ? toSide : -toSide) / 2 : side;
};
