/** A new circuit from a recorded lap or several. Rule PL109. */
import type { Point } from '../../../numeric/localPlane.js';
import { findBends } from '../bends.js';
import { checkCircuit } from '../checkCircuit.js';
import type { Say } from '../file/members.js';
import { sayOddZone, zoneOf } from '../file/zones.js';
import { sayCount, sayMetres } from '../placeWords.js';
import { layTrack, placeOf, planeAt, pointOf, roundedPlace, signedAreaOf } from '../track.js';
import type { Circuit, CircuitProblem, Place } from '../types.js';
import { findLaps } from './findLaps.js';
import { evenRing, medianLap, spreadOf } from './medianLap.js';
import { isXml, readRecording, type Tell } from './readRecording.js';

/** There the two stand by name. */
const MEND_GPX = 'exchange the values of lat and lon in the GPX file';
const STEP_M = 10;
/** A median of more moves by centimetres. */
const MOST_LAPS = 40;
/** Wiggles of a few metres that smoothing left are shorter than this either side. */
const BEND_WINDOW_M = 30;

export interface FromRecording {
  readonly circuit: Circuit | null;
  readonly problems: readonly CircuitProblem[];
  /** What it was made from, said; empty where nothing was. */
  readonly sentence: string;
}

export interface NewCircuit {
  readonly name: string;
  readonly zone: string;
}

/** How the time of a day's recording parts: its points read, its laps found, their middle taken. */
const READ = 0.4;
const FOUND = 0.7;

/** The paddock stands where the recording ends, until the person sets it: most end at the car. */
export function circuitFromRecording(
  text: string,
  { name, zone }: NewCircuit,
  tell: Tell = () => undefined,
): FromRecording {
  const problems: CircuitProblem[] = [];
  const say: Say = (problem) => problems.push(problem);
  const read = readRecording(text, say, (share) => tell(READ * share));
  /** Some receivers begin a new track each lap: all of them in a row are tried, too. */
  const tried = read.length > 1 ? [...read, read.flat()] : read;
  const lines = tried.map((places, i) =>
    lapsOf(places, (share) => tell(READ + ((FOUND - READ) * (i + share)) / tried.length)),
  );
  const best = lines.reduce((most, line) => (line.laps.length > most.laps.length ? line : most), NONE);
  const last = best.places.at(-1);
  if (last === undefined) {
    if (lines.length > 0) problems.push(noLap(lines.flatMap(({ places }) => [places[0]!, places.at(-1)!])));
    return { circuit: null, problems, sentence: '' };
  }
  const plane = planeAt(best.places[0]!);
  const laps = evenlyOf(best.laps, MOST_LAPS);
  const ring = evenRing(
    medianLap(laps, (share) => tell(FOUND + (1 - FOUND) * share)),
    STEP_M,
  );
  const centreline = ring.map((point) => roundedPlace(placeOf(plane, point)));
  const circuit: Circuit = {
    name,
    zone: zoneOf(zone, centreline.slice(0, 1), say),
    direction: signedAreaOf(ring) > 0 ? 'anticlockwise' : 'clockwise',
    centreline,
    bends: findBends(layTrack({ centreline }), BEND_WINDOW_M),
    ways: [],
    spots: [],
    paddock: last,
  };
  sayOddZone(circuit.zone, circuit.centreline[0]!, say, isXml(text) ? MEND_GPX : undefined);
  return {
    circuit,
    problems: [...problems, ...checkCircuit(circuit)],
    sentence: madeFrom(circuit, best.laps.length, laps, ring),
  };
}

function evenlyOf<T>(all: readonly T[], most: number): readonly T[] {
  const step = Math.max(1, all.length / most);
  return Array.from({ length: Math.min(all.length, most) }, (_, i) => all[Math.floor(i * step)]!);
}

interface Laps {
  readonly places: readonly Place[];
  readonly laps: readonly (readonly Point[])[];
}
const NONE: Laps = { places: [], laps: [] };

function lapsOf(places: readonly Place[], tell: Tell): Laps {
  const plane = planeAt(places[0]!);
  return {
    places,
    laps: findLaps(
      places.map((place) => pointOf(plane, place)),
      tell,
    ),
  };
}

function madeFrom(
  circuit: Circuit,
  count: number,
  laps: readonly (readonly Point[])[],
  ring: readonly Point[],
): string {
  const { lengthM } = layTrack(circuit);
  const found = `${sayCount(count, 'lap', 'laps')} of about ${sayMetres(lengthM)}, ${circuit.direction}`;
  const errs =
    laps.length === 1
      ? ': the line errs as the recording does'
      : `, ${spreadOf(laps, ring).toFixed(1)} m apart in the mean`;
  return `${found}${errs}. Where the start line is, nobody knows yet; the paddock is taken to be where the recording ends.`;
}

const noLap = (at: readonly Place[]): CircuitProblem => ({
  kind: 'no-lap',
  sentence:
    'Expected a lap that comes round to where it began, but the recording passes no place twice in one direction. Record a whole lap and a little more.',
  at,
});
