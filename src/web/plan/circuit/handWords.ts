/** What the hand's words do to the circuit: each makes one change and says it. Rule PL115. */
import { azimuthFrom } from '../../../core/plan/circuit/angles.js';
import {
  addBend,
  insertLinePoint,
  removeBend,
  removeLinePoint,
  startLineAt,
} from '../../../core/plan/circuit/edit/line.js';
import { addSpot, removeSpot, saySpot } from '../../../core/plan/circuit/edit/spots.js';
import { addWay, changeWay, removeWay } from '../../../core/plan/circuit/edit/ways.js';
import { sayOverItself } from '../../../core/plan/circuit/edit/words.js';
import { layTrack, nearestOnTrack, pointOf, roundedPlace } from '../../../core/plan/circuit/track.js';
import type { Circuit, Place } from '../../../core/plan/circuit/types.js';
import { type Degrees, degreesOf } from '../../../core/units.js';
import type { CircuitHand } from './circuitHand.js';
import { placeOfHeld } from './held.js';

/** From a place to the nearest bit of the line. */
function towardsTrack(circuit: Circuit, place: Place): Degrees {
  const track = layTrack(circuit);
  const from = pointOf(track.plane, place);
  const deg = azimuthFrom(from, nearestOnTrack(track, from).point);
  return degreesOf(Math.round(deg) % 360);
}

export function newSpot(hand: CircuitHand): void {
  const { circuit, cross } = hand.store.get();
  const name = `Spot ${circuit.spots.length + 1}`;
  const added = addSpot(circuit, name, roundedPlace(cross), towardsTrack(circuit, cross));
  hand.change(added, `A new spot, ${name}`, { kind: 'spot', id: added.circuit.spots.at(-1)!.id });
}

export function newBend(hand: CircuitHand): void {
  const { circuit, cross } = hand.store.get();
  const names = new Set(circuit.bends.map(({ name }) => name));
  let number = circuit.bends.length + 1;
  while (names.has(`Bend ${number}`)) number++;
  const name = `Bend ${number}`;
  const added = addBend(circuit, name, cross);
  hand.change(added, `A new bend, ${name}`, {
    kind: 'bend',
    index: added.circuit.bends.findIndex((bend) => bend.name === name),
  });
}

export function aimAtTrack(hand: CircuitHand): void {
  const { circuit, held } = hand.store.get();
  const spot = held.kind === 'spot' ? circuit.spots.find(({ id }) => id === held.id) : undefined;
  if (spot === undefined) return;
  const viewAzimuthDeg = towardsTrack(circuit, spot.place);
  hand.change(saySpot(circuit, spot.id, { ...spot, viewAzimuthDeg }), `Spot ${spot.number} ${spot.name} turned`);
}

/** As a path for anyone on foot, until the person says otherwise. */
export function endWay(hand: CircuitHand): void {
  const { circuit, drawing } = hand.store.get();
  const line = (drawing ?? []).map(roundedPlace);
  const added = addWay(circuit, { line, kind: 'path', crossing: 'none', onFoot: 'anyone', byVehicle: 'nobody' });
  hand.draw(null);
  hand.change(added, 'A new way', { kind: 'way', id: added.circuit.ways.at(-1)!.id, point: 0 });
}

const between = (one: Place, other: Place): Place =>
  roundedPlace({
    longitudeDeg: degreesOf((one.longitudeDeg + other.longitudeDeg) / 2),
    latitudeDeg: degreesOf((one.latitudeDeg + other.latitudeDeg) / 2),
  });

/** Half-way to the next point; behind a way's last one, back from it. */
export function addPoint(hand: CircuitHand): void {
  const { circuit, held } = hand.store.get();
  if (held.kind === 'line') {
    const [here, next] = [
      circuit.centreline[held.point]!,
      circuit.centreline[held.point + 1] ?? circuit.centreline[0]!,
    ];
    const more = insertLinePoint(circuit, held.point, between(here, next));
    hand.change(more, 'A point more of the line', { kind: 'line', point: held.point + 1 });
  } else if (held.kind === 'way') {
    const line = circuit.ways.find(({ id }) => id === held.id)?.line ?? [];
    const at = Math.min(held.point, line.length - 2);
    changeLine(hand, held.id, line.toSpliced(at + 1, 0, between(line[at]!, line[at + 1]!)), at + 1);
  }
}

export function omitPoint(hand: CircuitHand): void {
  const { circuit, held } = hand.store.get();
  if (held.kind === 'line') {
    const less = removeLinePoint(circuit, held.point);
    hand.change(less, 'A point less of the line', { kind: 'line', point: Math.max(0, held.point - 1) });
  } else if (held.kind === 'way') {
    const line = circuit.ways.find(({ id }) => id === held.id)?.line ?? [];
    changeLine(hand, held.id, line.toSpliced(held.point, 1), Math.max(0, held.point - 1));
  }
}

function changeLine(hand: CircuitHand, id: string, line: readonly Place[], point: number): void {
  const { circuit } = hand.store.get();
  const way = circuit.ways.find((one) => one.id === id);
  if (way !== undefined)
    hand.change(changeWay(circuit, id, { ...way, line }), `The points of the way ${id}`, { kind: 'way', id, point });
}

export function beginLineHere(hand: CircuitHand): void {
  const { circuit, held, cross } = hand.store.get();
  const place = placeOfHeld(circuit, held, cross) ?? cross;
  hand.change(startLineAt(circuit, place), 'The line begins here', { kind: 'line', point: 0 });
}

export function overItself(hand: CircuitHand): void {
  const { circuit, cross } = hand.store.get();
  hand.change(sayOverItself(circuit, roundedPlace(cross)), 'The track passes over itself by a bridge');
}

export function removeHeld(hand: CircuitHand): void {
  const { circuit, held } = hand.store.get();
  if (held.kind === 'spot') hand.change(removeSpot(circuit, held.id), 'A spot taken away');
  else if (held.kind === 'bend') hand.change(removeBend(circuit, held.index), 'A bend taken away', { kind: 'cross' });
  else if (held.kind === 'way') hand.change(removeWay(circuit, held.id), 'A way taken away');
}
