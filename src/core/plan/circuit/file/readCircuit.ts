/**
 * A circuit from its file (`docs/circuit-file.md`). Bad input throws nothing: each thing wrong is said and shown, and the good
 * rest is read. Rules PL105, PL108.
 */
import { degreesOf, type Metres, type Milliseconds } from '../../../units.js';
import { checkCircuit } from '../checkCircuit.js';
import { planeAt, pointOf, signedAreaOf } from '../track.js';
import type { Circuit, CircuitProblem, Direction, Place } from '../types.js';
import { called, type Feature, readFeatures } from './features.js';
import { listOf, Members, numberFrom, oneOf, type Say, someId, someText } from './members.js';
import { type Centreline, centrelineOf } from './readCentreline.js';
import { spotsOf } from './readSpots.js';
import { bendOf, wayOf } from './readWays.js';
import { withoutRepeats } from './repeats.js';
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
