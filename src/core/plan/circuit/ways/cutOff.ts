/** Spots that no way reaches: what a drawing lacks before a day can be planned over it, and not what is wrong with it. Rule PL122. */
import { sayCount } from '../placeWords.js';
import type { Circuit, CircuitSpot } from '../types.js';
import { travelOver } from './legs.js';

/** More are counted and not named. */
const MOST_NAMED = 3;

/** Not even on foot or by vehicle with the permit: what only wants one is told elsewhere. */
export function cutOffSpots(circuit: Circuit): readonly CircuitSpot[] {
  const travels = [false, true].map((hasVehicle) => travelOver(circuit, { hasPermit: true, hasVehicle }));
  return circuit.spots.filter(({ id }) => travels.every((travel) => travel.legBetween('paddock', id) === null));
}

/** Null where every spot is reached, or none is drawn yet. */
export function cutOffWords(circuit: Circuit): string | null {
  const cut = cutOffSpots(circuit);
  if (cut.length === 0) return null;
  const named = cut.map(({ number, name }) => `${number} ${name}`);
  const spots =
    cut.length === circuit.spots.length && cut.length > 1
      ? `any of the ${cut.length} spots`
      : cut.length <= MOST_NAMED
        ? named.join(', ')
        : `${sayCount(cut.length, 'spot', 'spots')}, the first ${named[0]}`;
  const drawn = circuit.ways.length === 0 ? 'No way is drawn' : 'None of the ways drawn leads';
  return `${drawn} from the paddock to ${spots}: a plan can neither bring you there nor away from there. Draw the way; where it crosses the track, say by which bridge or tunnel.`;
}
