/**
 * A circuit from its file (`docs/circuit-file.md`). Bad input throws nothing: each thing wrong is said and shown, and the good
 * rest is read. Rules PL105, PL108.
 */
import type { SpotId } from '../../../ids.js';
import { degreesOf, type Metres, type Milliseconds, metresOf } from '../../../units.js';
import { checkCircuit } from '../checkCircuit.js';
import { sayMetres } from '../placeWords.js';
import { distanceBetween } from '../segments.js';
import { layTrack, nearestOnTrack, placeOf, planeAt, pointAlong, pointOf, signedAreaOf } from '../track.js';
import type { Bend, Circuit, CircuitProblem, CircuitSpot, Direction, Place, Way } from '../types.js';
import { type Feature, readFeatures } from './features.js';
import { listOf, Members, numberFrom, oneOf, type Say, someId, someText, yesOrNo } from './members.js';
import { type Numbered, withoutRepeats } from './repeats.js';
import { sayOddZone, zoneOf } from './zones.js';

export interface ReadCircuit {
  /** Null only where there is no centreline. */
  readonly circuit: Circuit | null;
  readonly problems: readonly CircuitProblem[];
}

export interface ReadOptions {
  /** A place the person knows to lie in the same country: tells swapped coordinates. */
  readonly near?: Place;
}

export function readCircuit(text: string, { near }: ReadOptions = {}): ReadCircuit {
  const problems: CircuitProblem[] = [];
  const say: Say = (problem) => problems.push(problem);
  const features = readFeatures(text, near, say);
  if (features === null) return { circuit: null, problems };
  const line = centrelineOf(features, say);
  if (line === null) return { circuit: null, problems };
  const circuit = assemble(features, line, say);
  sayOddZone(circuit.zone, circuit.centreline[0]!, say);
  return { circuit, problems: [...problems, ...checkCircuit(circuit)] };
}

const called = (features: readonly Feature[], role: string, geometry: Feature['geometry'], say: Say): Feature[] =>
  features.filter((feature) => {
    if (feature.role !== role) return false;
    if (feature.geometry === geometry) return true;
    const at = feature.places.slice(0, 1);
    const sentence = `${feature.path} was left out: expected a ${role} to be a ${geometry}, but it is a ${feature.geometry}. Draw it as a ${geometry}.`;
    say({ kind: 'left-out', sentence, at });
    return false;
  });

interface Centreline {
  readonly feature: Feature;
  readonly places: readonly Place[];
}

function centrelineOf(features: readonly Feature[], say: Say): Centreline | null {
  const [feature, ...others] = called(features, 'centreline', 'LineString', say);
  if (feature === undefined) {
    const found = features.length === 0 ? 'no features' : `${features.length} features of other roles or of none`;
    say({
      kind: 'no-centreline',
      sentence: `Expected a LineString whose property "role" is "centreline", but found ${found}. Give the line of the track this role, or bring the file in as a recording.`,
      at: features.slice(0, 1).flatMap(({ places }) => places.slice(0, 1)),
    });
    return null;
  }
  for (const other of others)
    say({
      kind: 'left-out',
      sentence: `${other.path} was left out: it is a second centreline. Join both into one line, or give it another role.`,
      at: other.places,
    });
  const places = closed(feature, say);
  if (distinct(places) >= 3) return { feature, places };
  say({
    kind: 'no-centreline',
    sentence: `Expected a centreline of three places and more, but ${feature.path} has ${distinct(places)} that differ. Draw it again.`,
    at: places,
  });
  return null;
}

const isSame = (a: Place, b: Place): boolean => a.longitudeDeg === b.longitudeDeg && a.latitudeDeg === b.latitudeDeg;
const distinct = (places: readonly Place[]): number =>
  new Set(places.map(({ longitudeDeg, latitudeDeg }) => `${longitudeDeg} ${latitudeDeg}`)).size;

/** The ring without its last place where that is the first again. */
function closed({ path, places }: Feature, say: Say): readonly Place[] {
  const [first, last] = [places[0]!, places.at(-1)!];
  if (isSame(first, last)) return places.slice(0, -1);
  const plane = planeAt(first);
  const gapM = distanceBetween(pointOf(plane, first), pointOf(plane, last));
  say({
    kind: 'closed-by-us',
    sentence: `The centreline (${path}) ends ${sayMetres(gapM)} from where it begins; it was closed with a straight piece. Look whether it is whole.`,
    at: [last, first],
  });
  return places;
}

function assemble(features: readonly Feature[], { feature, places }: Centreline, say: Say): Circuit {
  const start = places.slice(0, 1);
  const of = new Members(
    feature.properties,
    { path: `${feature.path}.properties`, what: 'the centreline', at: start },
    say,
  );
  const name = of.needed('name', someText, 'Circuit without a name', 'give it one');
  const zone = zoneOf(
    of.needed('zone', someId, 'UTC', 'UTC stands until you say a zone such as Europe/London'),
    start,
    say,
  );
  const plane = planeAt(places[0]!);
  const drawn: Direction =
    signedAreaOf(places.map((place) => pointOf(plane, place))) > 0 ? 'anticlockwise' : 'clockwise';
  const direction = of.needed(
    'direction',
    oneOf('clockwise', 'anticlockwise'),
    drawn,
    `${drawn} stands, as it is drawn`,
  );
  const base = {
    name,
    zone,
    direction,
    centreline: places,
    ...(of.optional('widthM', numberFrom(4, 40, 'metres')) as { widthM?: Metres }),
    ...overItself(of),
    ...(of.optional('lapRecordMs', numberFrom(10_000, 1_800_000, 'milliseconds')) as { lapRecordMs?: Milliseconds }),
  };
  return {
    ...base,
    bends: called(features, 'bend', 'Point', say).map((one) => bendOf(base, one, say)),
    ways: withoutRepeats(
      'way',
      called(features, 'way', 'LineString', say).map((one) => wayOf(one, say)),
      ({ line }) => line.slice(0, 1),
      say,
    ),
    spots: spotsOf(called(features, 'spot', 'Point', say), say),
    paddock: paddockOf(called(features, 'paddock', 'Point', say), places[0]!, say),
  };
}

/** Places as lists of longitude and latitude, as in a geometry. */
function overItself(of: Members): { overItself?: readonly Place[] } {
  const pair = listOf(numberFrom(-180, 180, 'degrees'));
  const place = {
    expected: 'a longitude and a latitude',
    read: (value: unknown): Place | undefined => {
      const [longitude, latitude] = pair.read(value) ?? [];
      if (longitude === undefined || latitude === undefined || Math.abs(latitude) > 90) return undefined;
      return { longitudeDeg: degreesOf(longitude), latitudeDeg: degreesOf(latitude) };
    },
  };
  return of.optional('overItself', listOf(place));
}

/** A point moved on a map stands before the metres that were written for it. */
const MOVED_M = 5;

function bendOf(line: Pick<Circuit, 'centreline'>, { path, places, properties }: Feature, say: Say): Bend {
  const at = places.slice(0, 1);
  const track = layTrack(line);
  const of = new Members(properties, { path: `${path}.properties`, what: 'a bend', at }, say);
  const name = of.needed('name', someText, 'Bend without a name', 'give it one');
  const point = pointOf(track.plane, places[0]!);
  const { alongM } = of.optional('alongM', numberFrom(-1e6, 1e6, 'metres'));
  const isThere = alongM !== undefined && distanceBetween(pointAlong(track, alongM), point) <= MOVED_M;
  if (isThere) return { name, alongM: metresOf(alongM) };
  const nearest = nearestOnTrack(track, point);
  if (alongM !== undefined)
    say({
      kind: 'wrong-value',
      sentence: `The bend ${name} (${path}) is written ${sayMetres(alongM)} along the line but drawn at ${sayMetres(nearest.alongM)}; the drawing stands.`,
      at: [...at, placeOf(track.plane, nearest.point)],
    });
  return { name, alongM: nearest.alongM };
}

function wayOf({ path, places, properties }: Feature, say: Say): Way {
  const of = new Members(properties, { path: `${path}.properties`, what: 'a way', at: places.slice(0, 1) }, say);
  const access = oneOf('anyone', 'with-permit', 'nobody');
  const minutes = numberFrom(0, 120, 'minutes');
  const { minutesOnFoot } = of.optional('minutesOnFoot', minutes);
  const { minutesByVehicle } = of.optional('minutesByVehicle', minutes);
  const said = {
    ...(minutesOnFoot === undefined ? {} : { onFoot: minutesOnFoot }),
    ...(minutesByVehicle === undefined ? {} : { byVehicle: minutesByVehicle }),
  };
  return {
    id: of.needed('id', someId, 'way', 'it was given one'),
    line: places,
    kind: of.needed('kind', oneOf('path', 'service-road'), 'path', 'path stands'),
    crossing: of.needed('crossing', oneOf('none', 'bridge', 'tunnel'), 'none', 'none stands'),
    onFoot: of.needed('onFoot', access, 'nobody', 'nobody stands until you say who may'),
    byVehicle: of.needed('byVehicle', access, 'nobody', 'nobody stands until you say who may'),
    ...(Object.keys(said).length === 0 ? {} : { saidMinutes: said }),
  };
}

function spotsOf(features: readonly Feature[], say: Say): CircuitSpot[] {
  const read = features.map((feature) => spotOf(feature, say));
  const highest = Math.max(0, ...read.map(({ number }) => number ?? 0));
  let next = highest;
  const numbered = read.map((spot) => ({ ...spot, number: spot.number ?? ++next }));
  return withoutRepeats('spot', numbered as (CircuitSpot & Numbered)[], ({ place }) => [place], say);
}

function spotOf({ path, places, properties }: Feature, say: Say): Omit<CircuitSpot, 'number'> & { number?: number } {
  const name = someText.read(properties.name) ?? 'without a name';
  const at = places.slice(0, 1);
  const of = new Members(properties, { path: `${path}.properties`, what: `the spot ${name}`, at }, say);
  const metres = (from: number, to: number) => numberFrom(from, to, 'metres');
  return {
    id: of.needed('id', someId, 'spot', 'it was given one') as SpotId,
    ...of.optional('number', wholeNumber),
    name: of.needed('name', someText, 'Spot without a name', 'give it one'),
    place: places[0]!,
    viewAzimuthDeg: degreesOf(
      of.needed('viewAzimuthDeg', numberFrom(0, 360, 'degrees'), 0, 'it looks north until you turn it'),
    ),
    ...(of.optional('heightM', metres(-50, 200)) as { heightM?: Metres }),
    ...(of.optional('distanceM', metres(0, 1000)) as { distanceM?: Metres }),
    ...of.optional('aspect', oneOf('head-on', 'three-quarter', 'side-on', 'going-away')),
    ...of.optional('sideSeen', oneOf('left', 'right', 'both')),
    ...of.optional('moments', listOf(oneOf('entry', 'apex', 'exit', 'straight'))),
    ...of.optional('needsPermit', yesOrNo),
    ...of.optional('hasShade', yesOrNo),
    ...of.optional('focalMm', shortestToLongest),
    ...of.optional('caution', someText),
  };
}

const wholeNumber = {
  expected: 'a whole number from 1 to 99',
  read: (value: unknown): number | undefined =>
    Number.isInteger(value) && (value as number) >= 1 && (value as number) <= 99 ? (value as number) : undefined,
};
const shortestToLongest = {
  expected: 'the shortest and the longest lens in mm, such as [100, 400]',
  read: (value: unknown): readonly [number, number] | undefined => {
    const [shortest, longest, more] = listOf(numberFrom(1, 3000, 'millimetres')).read(value) ?? [];
    if (shortest === undefined || longest === undefined || more !== undefined) return undefined;
    return shortest <= longest ? [shortest, longest] : undefined;
  },
};

function paddockOf(features: readonly Feature[], start: Place, say: Say): Place {
  const [paddock, second] = features;
  if (paddock === undefined) {
    const sentence = `Expected a Point whose property "role" is "paddock", but there is none; the start line stands for it. Set the paddock on the map.`;
    say({ kind: 'missing', sentence, at: [start] });
    return start;
  }
  if (second !== undefined)
    say({ kind: 'left-out', sentence: `${second.path} was left out: it is a second paddock.`, at: second.places });
  return paddock.places[0]!;
}
