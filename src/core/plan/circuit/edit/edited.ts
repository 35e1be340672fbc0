/** What a change gives. Rule PL110. */
import { checkCircuit } from '../checkCircuit.js';
import type { Circuit, CircuitProblem, Place } from '../types.js';

export interface Edited {
  readonly circuit: Circuit;
  readonly problems: readonly CircuitProblem[];
}

export const edited = (circuit: Circuit): Edited => ({ circuit, problems: checkCircuit(circuit) });

/** What cannot be done leaves the circuit as it was and says why. */
export const notDone = (circuit: Circuit, sentence: string, at: readonly Place[] = []): Edited => ({
  circuit,
  problems: [{ kind: 'not-done', sentence, at }, ...checkCircuit(circuit)],
});

/** Small letters, digits and `-` from a name, free of others. */
export function freeId(name: string, taken: ReadonlySet<string>, otherwise: string): string {
  const plain =
    name
      .normalize('NFKD')
      .replace(/\p{M}/gu, '')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || otherwise;
  let id = plain;
  for (let suffix = 2; taken.has(id); suffix++) id = `${plain}-${suffix}`;
  return id;
}
