/** The circuit as the sheet draws it: metres on a plane, only the ways that may be used, minutes on those that are gone. */
import { localPlane } from '../../numeric/localPlane.js';
import { degreesOf, metresOf } from '../../units.js';
import type { Circuit, Place } from '../circuit/types.js';
import type { SheetMap, SheetPoint, SheetRow } from './types.js';

export function mapOf(circuit: Circuit, rows: readonly SheetRow[]): SheetMap {
  const plane = localPlane(circuit.paddock.longitudeDeg, circuit.paddock.latitudeDeg);
  const at = ({ longitudeDeg, latitudeDeg }: Place): SheetPoint => {
    const { x, y } = plane.toPoint(longitudeDeg, latitudeDeg);
    return { x: metresOf(x), y: metresOf(y) };
  };
  const track = circuit.centreline.map(at);
  return {
    track,
    startsTowardsDeg: degreesOf(azimuthOf(track[0]!, track[1]!)),
    ways: circuit.ways
      .filter(({ onFoot, byVehicle }) => onFoot !== 'nobody' || byVehicle !== 'nobody')
      .map(({ line, kind, crossing }) => ({ line: line.map(at), kind, crossing })),
    spots: circuit.spots.map((spot) => ({ spot, at: at(spot.place), viewAzimuthDeg: spot.viewAzimuthDeg })),
    minutes: minutesOf(circuit, rows, at),
    paddock: at(circuit.paddock),
  };
}

const azimuthOf = (from: SheetPoint, to: SheetPoint): number =>
  (Math.atan2(to.x - from.x, to.y - from.y) * 180) / Math.PI;

/** Between two stays; each pair of spots once. */
function minutesOf(circuit: Circuit, rows: readonly SheetRow[], at: (place: Place) => SheetPoint): SheetMap['minutes'] {
  const placeOf = new Map(circuit.spots.map((spot) => [spot.id, at(spot.place)]));
  const found = new Map<string, SheetMap['minutes'][number]>();
  for (const [i, row] of rows.entries()) {
    const [before, after] = [rows[i - 1], rows[i + 1]];
    if (row.kind !== 'way' || before?.kind !== 'stay' || after?.kind !== 'stay') continue;
    const [a, b] = [placeOf.get(before.spot.id), placeOf.get(after.spot.id)];
    if (a === undefined || b === undefined) continue;
    const key = [before.spot.id, after.spot.id].sort().join(' ');
    found.set(key, { from: a, to: b, minutes: row.minutes });
  }
  return [...found.values()];
}
