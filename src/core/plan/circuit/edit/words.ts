/** What a person says of the circuit as a whole. Rule PL110. */
import type { Circuit, Place } from '../types.js';
import { type Edited, edited, notDone } from './edited.js';

export const renameCircuit = (circuit: Circuit, name: string): Edited =>
  name.trim() === ''
    ? notDone(circuit, `Expected a name for the circuit, but it is empty; it is still called ${circuit.name}.`)
    : edited({ ...circuit, name: name.trim() });

export type CircuitWords = Partial<Pick<Circuit, 'zone' | 'direction' | 'widthM' | 'lapRecordMs'>>;
export const sayCircuit = (circuit: Circuit, words: CircuitWords): Edited => edited({ ...circuit, ...words });

/** The track passes over itself here by a bridge: the crossing is meant. */
export const sayOverItself = (circuit: Circuit, place: Place): Edited =>
  edited({ ...circuit, overItself: [...(circuit.overItself ?? []), place] });

export const movePaddock = (circuit: Circuit, paddock: Place): Edited => edited({ ...circuit, paddock });
