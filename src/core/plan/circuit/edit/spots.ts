/** Changes of spots. They are numbered 1, 2, 3 … in their order. Rule PL110. */
import type { SpotId } from '../../../ids.js';
import type { Degrees } from '../../../units.js';
import { azimuthOf } from '../angles.js';
import type { Circuit, CircuitSpot, Place } from '../types.js';
import { type Edited, edited, freeId, notDone } from './edited.js';

const inOrder = (spots: readonly CircuitSpot[]): CircuitSpot[] => spots.map((spot, i) => ({ ...spot, number: i + 1 }));
const noSpot = (circuit: Circuit, id: SpotId): Edited => notDone(circuit, `There is no spot ${id} on ${circuit.name}.`);

function changeSpot(circuit: Circuit, id: SpotId, change: (spot: CircuitSpot) => CircuitSpot): Edited {
  if (!circuit.spots.some((spot) => spot.id === id)) return noSpot(circuit, id);
  return edited({ ...circuit, spots: circuit.spots.map((spot) => (spot.id === id ? change(spot) : spot)) });
}

export const moveSpot = (circuit: Circuit, id: SpotId, place: Place): Edited =>
  changeSpot(circuit, id, (spot) => ({ ...spot, place }));

/** @param byDeg clockwise. */
export const turnSpot = (circuit: Circuit, id: SpotId, byDeg: Degrees): Edited =>
  changeSpot(circuit, id, (spot) => ({ ...spot, viewAzimuthDeg: azimuthOf(spot.viewAzimuthDeg + byDeg) }));

/** All that a person says of a spot. */
export type SpotWords = Omit<CircuitSpot, 'id' | 'number' | 'place'>;
/** Said anew: what is left away is worked out from the drawing again. */
export const saySpot = (circuit: Circuit, id: SpotId, words: SpotWords): Edited =>
  changeSpot(circuit, id, ({ number, place }) => ({ ...words, id, number, place }));

export function addSpot(circuit: Circuit, name: string, place: Place, viewAzimuthDeg: Degrees): Edited {
  const id = freeId(name, new Set(circuit.spots.map((spot) => spot.id)), 'spot') as SpotId;
  const spot: CircuitSpot = { id, number: 0, name, place, viewAzimuthDeg };
  return edited({ ...circuit, spots: inOrder([...circuit.spots, spot]) });
}

/** The numbers of those after it follow. */
export function removeSpot(circuit: Circuit, id: SpotId): Edited {
  const spots = circuit.spots.filter((spot) => spot.id !== id);
  return spots.length === circuit.spots.length ? noSpot(circuit, id) : edited({ ...circuit, spots: inOrder(spots) });
}

/** @param number of its own from now on; the others keep their order. */
export function renumberSpot(circuit: Circuit, id: SpotId, number: number): Edited {
  const spot = circuit.spots.find((one) => one.id === id);
  if (spot === undefined) return noSpot(circuit, id);
  const others = circuit.spots.filter((one) => one.id !== id);
  return edited({ ...circuit, spots: inOrder(others.toSpliced(Math.max(0, number - 1), 0, spot)) });
}
