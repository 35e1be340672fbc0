/**
 * Features of a GeoJSON text (RFC 7946) with their places, and what is wrong with them. Longitude comes first there; where
 * latitude does, it is noticed. Rule PL108.
 */
import { type Degrees, degreesOf } from '../../../units.js';
import { sayPlace } from '../placeWords.js';
import { distanceBetween } from '../segments.js';
import { planeAt, pointOf } from '../track.js';
import type { Place } from '../types.js';
import { isFiniteNumber, isRecord, type Say, showValue } from './members.js';

/** As read: two numbers, in the order they stand. */
type Pair = readonly [number, number];

export interface Feature {
  /** `features[3]`. */
  readonly path: string;
  readonly role: string;
  readonly geometry: 'Point' | 'LineString';
  readonly places: readonly Place[];
  readonly properties: Readonly<Record<string, unknown>>;
}

interface RawFeature extends Omit<Feature, 'places'> {
  readonly pairs: readonly Pair[];
}

/** A circuit is no larger than this; what is further from the rest is somewhere else on Earth. */
const CIRCUIT_REACH_M = 50_000;
/** A place the person knows lies in the same part of the world as the circuit. */
const KNOWN_REACH_M = 1_000_000;

export function readFeatures(text: string, near: Place | undefined, say: Say): Feature[] | null {
  const list = featureList(text, say);
  if (list === null) return null;
  const raw = list.flatMap((one, i) => readFeature(one, `features[${i}]`, say) ?? []);
  return placed(raw, near, say);
}

function featureList(text: string, say: Say): readonly unknown[] | null {
  let root: unknown;
  try {
    root = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    say({
      kind: 'not-a-circuit-file',
      sentence: `Expected a GeoJSON file, but it is not JSON (${(error as Error).message}). Save it again as GeoJSON.`,
      at: [],
    });
    return null;
  }
  if (isRecord(root) && root.type === 'FeatureCollection' && Array.isArray(root.features)) return root.features;
  if (isRecord(root) && root.type === 'Feature') return [root];
  if (isRecord(root) && (root.type === 'LineString' || root.type === 'Point'))
    return [{ type: 'Feature', properties: {}, geometry: root }];
  const found = isRecord(root) ? `type ${showValue(root.type)}` : showValue(root);
  say({
    kind: 'not-a-circuit-file',
    sentence: `Expected a GeoJSON FeatureCollection, but found ${found}. Save the whole drawing as one FeatureCollection.`,
    at: [],
  });
  return null;
}

function readFeature(value: unknown, path: string, say: Say): RawFeature | null {
  const leaveOut = (why: string): null => {
    say({ kind: 'left-out', sentence: `${path} was left out: ${why}.`, at: [] });
    return null;
  };
  if (!isRecord(value) || !isRecord(value.geometry))
    return leaveOut('expected a Feature with a geometry, but it has none');
  const { type, coordinates } = value.geometry;
  if (type !== 'Point' && type !== 'LineString')
    return leaveOut(`expected a Point or a LineString, but found ${showValue(type)}`);
  const listed: unknown = type === 'Point' ? [coordinates] : coordinates;
  if (!Array.isArray(listed) || listed.length < (type === 'Point' ? 1 : 2))
    return leaveOut(`expected coordinates of a ${type}, but found ${showValue(coordinates)}`);
  const pairs = listed.map(pairOf);
  const wrong = pairs.indexOf(null);
  if (wrong >= 0)
    return leaveOut(
      `expected geometry.coordinates${type === 'Point' ? '' : `[${wrong}]`} to be longitude and latitude in degrees, but found ${showValue(listed[wrong])}`,
    );
  const properties = isRecord(value.properties) ? value.properties : {};
  const role = typeof properties.role === 'string' ? properties.role : '';
  return { path, role, geometry: type, pairs: pairs as Pair[], properties };
}

/** A height as third number is let pass. */
const pairOf = (value: unknown): Pair | null => {
  if (!Array.isArray(value) || !isFiniteNumber(value[0]) || !isFiniteNumber(value[1])) return null;
  const fits = (x: number, y: number): boolean => Math.abs(x) <= 180 && Math.abs(y) <= 90;
  return fits(value[0], value[1]) || fits(value[1], value[0]) ? [value[0], value[1]] : null;
};

const placeIn = ([longitude, latitude]: Pair): Place => ({
  longitudeDeg: longitude as Degrees,
  latitudeDeg: latitude as Degrees,
});
const swapPlace = ({ longitudeDeg, latitudeDeg }: Place): Place => ({
  longitudeDeg: degreesOf(latitudeDeg),
  latitudeDeg: degreesOf(longitudeDeg),
});
const swapPair = ([first, second]: Pair): Pair => [second, first];
const isLatitude = (value: number): boolean => Math.abs(value) <= 90;

function placed(raw: readonly RawFeature[], near: Place | undefined, say: Say): Feature[] {
  const all = raw.flatMap(({ pairs }) => pairs);
  const line = raw.find(({ role }) => role === 'centreline') ?? raw[0];
  const canSwap = line !== undefined && all.every(([first]) => isLatitude(first));
  const mustSwap = line?.pairs.some(([, second]) => !isLatitude(second));
  const isFar = near !== undefined && line !== undefined && isElsewhere(placeIn(line.pairs[0]!), near, KNOWN_REACH_M);
  const whole = canSwap && (mustSwap || isFar);
  if (whole) say(swappedSentence('Every place of the file', all.map((pair) => placeIn(swapPair(pair))).slice(0, 1)));
  const ordered = whole ? raw.map((one) => ({ ...one, pairs: one.pairs.map(swapPair) })) : raw;
  const middle = ordered.find(({ role }) => role === 'centreline')?.pairs.find(([, latitude]) => isLatitude(latitude));
  return ordered.map(({ pairs, ...feature }) => {
    const isSwapped = mustBeSwapped(pairs, middle === undefined ? undefined : placeIn(middle));
    const places = (isSwapped ? pairs.map(swapPair) : pairs).map(placeIn);
    if (isSwapped) say(swappedSentence(feature.path, places));
    return { ...feature, places };
  });
}

/** Only one of the two orders is on Earth, or only the other one is anywhere near the circuit. */
function mustBeSwapped(pairs: readonly Pair[], middle: Place | undefined): boolean {
  if (!pairs.every(([first]) => isLatitude(first))) return false;
  if (pairs.some(([, second]) => !isLatitude(second))) return true;
  return middle !== undefined && isElsewhere(placeIn(pairs[0]!), middle, CIRCUIT_REACH_M);
}

/** Far from the known place as read, and near it the other way round. */
const isElsewhere = (place: Place, known: Place, reachM: number): boolean =>
  isLatitude(place.longitudeDeg) && !isWithin(place, known, reachM) && isWithin(swapPlace(place), known, reachM);

/** By the plane where it is good, and by a rough reach in degrees first where it is not. */
function isWithin(place: Place, known: Place, reachM: number): boolean {
  const reachDeg = reachM / 111_000;
  if (Math.abs(place.latitudeDeg - known.latitudeDeg) > reachDeg) return false;
  const plane = planeAt(known);
  const level = { ...place, latitudeDeg: known.latitudeDeg };
  return distanceBetween(pointOf(plane, level), pointOf(plane, known)) <= reachM;
}

const swappedSentence = (what: string, places: readonly Place[]) => ({
  kind: 'swapped' as const,
  sentence: `${what} has latitude before longitude; GeoJSON wants longitude first. It was read the other way round, as ${sayPlace(places[0]!)}. Look whether that is right.`,
  at: places,
});

/** Features of a role; of another geometry than the role's they are left out, and that is said. */
export const called = (
  features: readonly Feature[],
  role: string,
  geometry: Feature['geometry'],
  say: Say,
): Feature[] =>
  features.filter((feature) => {
    if (feature.role !== role) return false;
    if (feature.geometry === geometry) return true;
    const at = feature.places.slice(0, 1);
    const sentence = `${feature.path} was left out: expected a ${role} to be a ${geometry}, but it is a ${feature.geometry}. Draw it as a ${geometry}.`;
    say({ kind: 'left-out', sentence, at });
    return false;
  });
