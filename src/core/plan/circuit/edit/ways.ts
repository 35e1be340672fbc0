/** Changes of the ways. Rule PL110. */
import type { Circuit, Place, Way } from '../types.js';
import { type Edited, edited, freeId, notDone } from './edited.js';

const isShort = (line: readonly Place[]): boolean => line.length < 2;
const tooShort = (circuit: Circuit, line: readonly Place[]): Edited =>
  notDone(circuit, 'Expected a way of two points and more; draw on before ending it, or take the whole way out.', line);

export function addWay(circuit: Circuit, way: Omit<Way, 'id'>): Edited {
  if (isShort(way.line)) return tooShort(circuit, way.line);
  const id = freeId(way.kind, new Set(circuit.ways.map((one) => one.id)), 'way');
  return edited({ ...circuit, ways: [...circuit.ways, { ...way, id }] });
}

/** Its line, its crossing, who may use it, its minutes: all anew. */
export function changeWay(circuit: Circuit, id: string, way: Omit<Way, 'id'>): Edited {
  if (!circuit.ways.some((one) => one.id === id)) return noWay(circuit, id);
  if (isShort(way.line)) return tooShort(circuit, way.line);
  return edited({ ...circuit, ways: circuit.ways.map((one) => (one.id === id ? { ...way, id } : one)) });
}

export function removeWay(circuit: Circuit, id: string): Edited {
  const ways = circuit.ways.filter((way) => way.id !== id);
  return ways.length === circuit.ways.length ? noWay(circuit, id) : edited({ ...circuit, ways });
}

const noWay = (circuit: Circuit, id: string): Edited => notDone(circuit, `There is no way ${id} on ${circuit.name}.`);
