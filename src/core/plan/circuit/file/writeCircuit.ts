/** A circuit as GeoJSON (RFC 7946), each thing a feature with its role: see `docs/circuit-file.md`. Reading it gives it back. */
import { layTrack, placeOf, pointAlong, roundedPlace } from '../track.js';
import type { Bend, Circuit, CircuitSpot, Place, Way } from '../types.js';

type Pair = readonly [number, number];
type Geometry =
  | { readonly type: 'Point'; readonly coordinates: Pair }
  | { readonly type: 'LineString'; readonly coordinates: readonly Pair[] };

const pairOf = ({ longitudeDeg, latitudeDeg }: Place): Pair => [longitudeDeg, latitudeDeg];
const pointAt = (place: Place): Geometry => ({ type: 'Point', coordinates: pairOf(place) });
const lineOver = (places: readonly Place[]): Geometry => ({ type: 'LineString', coordinates: places.map(pairOf) });
const feature = (role: string, geometry: Geometry, properties: object) => ({
  type: 'Feature',
  properties: { role, ...properties },
  geometry,
});

/** One feature a line, so that a change of one spot is a change of one line. */
export function writeCircuit(circuit: Circuit): string {
  const features = [
    centrelineOf(circuit),
    ...bendsOf(circuit),
    ...circuit.ways.map(wayOf),
    ...circuit.spots.map(spotOf),
    feature('paddock', pointAt(circuit.paddock), {}),
  ];
  const lines = features.map((one) => JSON.stringify(one)).join(',\n');
  return `{"type":"FeatureCollection","features":[\n${lines}\n]}\n`;
}

function centrelineOf({ centreline, name, zone, direction, widthM, overItself, lapRecordMs }: Circuit) {
  const properties = { name, zone, direction, widthM, overItself: overItself?.map(pairOf), lapRecordMs };
  return feature('centreline', lineOver([...centreline, centreline[0]!]), properties);
}

function bendsOf(circuit: Circuit) {
  const track = layTrack(circuit);
  return circuit.bends.map((bend: Bend) =>
    feature('bend', pointAt(roundedPlace(placeOf(track.plane, pointAlong(track, bend.alongM)))), bend),
  );
}

function wayOf({ line, saidMinutes, ...properties }: Way) {
  const said = { minutesOnFoot: saidMinutes?.onFoot, minutesByVehicle: saidMinutes?.byVehicle };
  return feature('way', lineOver(line), { ...properties, ...said });
}

function spotOf({ place, ...properties }: CircuitSpot) {
  return feature('spot', pointAt(place), properties);
}
