/**
 * Changes a person makes on the map or by key. Each gives the whole circuit anew with what is wrong with it; what cannot be done
 * leaves it as it was and says why. Spots are numbered 1, 2, 3 … in their order. Bends stay where they lie when the line
 * beside them is moved. Rule PL110.
 */
import type { SpotId } from '../../ids.js';
import { type Degrees, metresOf } from '../../units.js';
import { azimuthOf } from './angles.js';
import { checkCircuit } from './checkCircuit.js';
import { distanceBetween } from './segments.js';
import { layTrack, nearestOnTrack, placeOf, pointAlong, wrapAlong } from './track.js';
import type { Circuit, CircuitProblem, CircuitSpot, Place, Way } from './types.js';

export interface Edited {
  readonly circuit: Circuit;
  readonly problems: readonly CircuitProblem[];
}

const edited = (circuit: Circuit): Edited => ({ circuit, problems: checkCircuit(circuit) });
const notDone = (circuit: Circuit, sentence: string, at: readonly Place[] = []): Edited => ({
  circuit,
  problems: [{ kind: 'not-done', sentence, at }, ...checkCircuit(circuit)],
});

export const rename = (circuit: Circuit, name: string): Edited =>
  name.trim() === ''
    ? notDone(circuit, `Expected a name for the circuit, but it is empty; it is still called ${circuit.name}.`)
    : edited({ ...circuit, name: name.trim() });

/* Spots */

const inOrder = (spots: readonly CircuitSpot[]): CircuitSpot[] => spots.map((spot, i) => ({ ...spot, number: i + 1 }));

function changeSpot(circuit: Circuit, id: SpotId, change: (spot: CircuitSpot) => CircuitSpot): Edited {
  if (!circuit.spots.some((spot) => spot.id === id))
    return notDone(circuit, `There is no spot ${id} on ${circuit.name}.`);
  return edited({ ...circuit, spots: circuit.spots.map((spot) => (spot.id === id ? change(spot) : spot)) });
}

export const moveSpot = (circuit: Circuit, id: SpotId, place: Place): Edited =>
  changeSpot(circuit, id, (spot) => ({ ...spot, place }));

/** @param byDeg clockwise. */
export const turnSpot = (circuit: Circuit, id: SpotId, byDeg: Degrees): Edited =>
  changeSpot(circuit, id, (spot) => ({ ...spot, viewAzimuthDeg: azimuthOf(spot.viewAzimuthDeg + byDeg) }));

export type SpotWords = Omit<CircuitSpot, 'id' | 'number' | 'place'>;
/** All that is said of a spot, anew: what is left away is worked out from the drawing again. */
export const saySpot = (circuit: Circuit, id: SpotId, words: SpotWords): Edited =>
  changeSpot(circuit, id, ({ number, place }) => ({ ...words, id, number, place }));

export function addSpot(circuit: Circuit, name: string, place: Place, viewAzimuthDeg: Degrees): Edited {
  const id = freeId(name, new Set(circuit.spots.map((spot) => spot.id))) as SpotId;
  const spot: CircuitSpot = { id, number: 0, name, place, viewAzimuthDeg };
  return edited({ ...circuit, spots: inOrder([...circuit.spots, spot]) });
}

/** The numbers of those after it follow. */
export function removeSpot(circuit: Circuit, id: SpotId): Edited {
  const spots = circuit.spots.filter((spot) => spot.id !== id);
  if (spots.length === circuit.spots.length) return notDone(circuit, `There is no spot ${id} on ${circuit.name}.`);
  return edited({ ...circuit, spots: inOrder(spots) });
}

/** Small letters, digits and `-`, free of others. */
function freeId(name: string, taken: ReadonlySet<string>): string {
  const plain =
    name
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'spot';
  let id = plain;
  for (let suffix = 2; taken.has(id); suffix++) id = `${plain}-${suffix}`;
  return id;
}

/* The line */

/** Bends go to where they lie on the new line. */
function withLine(circuit: Circuit, centreline: readonly Place[]): Circuit {
  const [old, now] = [layTrack(circuit), layTrack({ ...circuit, centreline })];
  const bends = circuit.bends.map((bend) => {
    const { longitudeDeg, latitudeDeg } = placeOf(old.plane, pointAlong(old, bend.alongM));
    return { ...bend, alongM: nearestOnTrack(now, now.plane.toPoint(longitudeDeg, latitudeDeg)).alongM };
  });
  return { ...circuit, centreline, bends: bends.sort((a, b) => a.alongM - b.alongM) };
}

const noPoint = (circuit: Circuit, index: number): Edited =>
  notDone(circuit, `Expected a point of the line from 0 to ${circuit.centreline.length - 1}, but found ${index}.`);
const hasPoint = (circuit: Circuit, index: number): boolean => circuit.centreline[index] !== undefined;

export const moveLinePoint = (circuit: Circuit, index: number, place: Place): Edited =>
  hasPoint(circuit, index) ? edited(withLine(circuit, circuit.centreline.with(index, place))) : noPoint(circuit, index);

/** Behind the point of that index. */
export const insertLinePoint = (circuit: Circuit, index: number, place: Place): Edited =>
  hasPoint(circuit, index)
    ? edited(withLine(circuit, circuit.centreline.toSpliced(index + 1, 0, place)))
    : noPoint(circuit, index);

export function removeLinePoint(circuit: Circuit, index: number): Edited {
  if (!hasPoint(circuit, index)) return noPoint(circuit, index);
  if (circuit.centreline.length <= 3)
    return notDone(circuit, 'A line of three points can lose none; draw it finer first.', [circuit.centreline[index]!]);
  return edited(withLine(circuit, circuit.centreline.toSpliced(index, 1)));
}

/** A start set on a drawn point is that point. */
const SAME_M = 0.01;

/** The line begins at another place: metres along are counted from there. */
export function startAt(circuit: Circuit, place: Place): Edited {
  const track = layTrack(circuit);
  const { alongM, point } = nearestOnTrack(track, track.plane.toPoint(place.longitudeDeg, place.latitudeDeg));
  const next = track.alongs.findIndex((along) => along > alongM);
  const turned = next < 0 ? track.points : [...track.points.slice(next), ...track.points.slice(0, next)];
  const others = turned.filter((one) => distanceBetween(one, point) > SAME_M);
  const centreline = [point, ...others].map((one) => placeOf(track.plane, one));
  const bends = circuit.bends
    .map((bend) => ({ ...bend, alongM: wrapAlong(track, bend.alongM - alongM) }))
    .sort((a, b) => a.alongM - b.alongM);
  return edited({ ...circuit, centreline, bends });
}

/** Bikes go the other way round from the same start. What was said of the direction stands. */
export function turnLineRound(circuit: Circuit): Edited {
  const [first, ...others] = circuit.centreline;
  const track = layTrack(circuit);
  const bends = circuit.bends
    .map((bend) => ({ ...bend, alongM: wrapAlong(track, metresOf(track.lengthM - bend.alongM)) }))
    .sort((a, b) => a.alongM - b.alongM);
  return edited({ ...circuit, centreline: [first!, ...others.reverse()], bends });
}

export const sayDirection = (circuit: Circuit, direction: Circuit['direction']): Edited =>
  edited({ ...circuit, direction });

/* Ways and the paddock */

export function addWay(circuit: Circuit, way: Omit<Way, 'id'>): Edited {
  if (way.line.length < 2)
    return notDone(circuit, 'Expected a way of two points and more; draw on before ending it.', way.line);
  const id = freeId(way.kind, new Set(circuit.ways.map((one) => one.id)));
  return edited({ ...circuit, ways: [...circuit.ways, { ...way, id }] });
}

export function removeWay(circuit: Circuit, id: string): Edited {
  const ways = circuit.ways.filter((way) => way.id !== id);
  return ways.length === circuit.ways.length
    ? notDone(circuit, `There is no way ${id} on ${circuit.name}.`)
    : edited({ ...circuit, ways });
}

export const movePaddock = (circuit: Circuit, paddock: Place): Edited => edited({ ...circuit, paddock });
