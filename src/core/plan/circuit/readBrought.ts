/** A file brought in: a circuit drawn before, or a lap recorded on a phone. Nothing is taken yet. Rule PL116. */
import { readCircuit } from './file/readCircuit.js';
import { circuitFromRecording, type NewCircuit } from './recording/circuitFromRecording.js';
import { isXml, type Tell } from './recording/readRecording.js';
import { turnedRound } from './turnedRound.js';
import type { Circuit, CircuitProblem } from './types.js';

export interface Brought {
  /** Name and zone of a recording are the person's to say; a drawn circuit brings its own. */
  readonly kind: 'drawn' | 'recorded';
  readonly circuit: Circuit | null;
  readonly problems: readonly CircuitProblem[];
  /** What a recording gave; empty for a drawn circuit. */
  readonly sentence: string;
}

export interface AboutBrought extends NewCircuit {
  /** The person says that latitude and longitude stand in each other's place. */
  readonly isTurned?: boolean;
}

export function readBrought(written: string, about: AboutBrought, tell?: Tell): Brought {
  const text = about.isTurned === true ? turnedRound(written) : written;
  if (/^[\uFEFF\s]*$/.test(text)) return { kind: 'recorded', circuit: null, problems: [EMPTY], sentence: '' };
  const drawn = isXml(text) ? null : readCircuit(text);
  if (drawn !== null && (drawn.circuit !== null || isNoGeoJson(drawn.problems)))
    return { kind: 'drawn', sentence: '', ...drawn };
  return { kind: 'recorded', ...circuitFromRecording(text, about, tell) };
}

const isNoGeoJson = (problems: readonly CircuitProblem[]): boolean =>
  problems.some(({ kind }) => kind === 'not-a-circuit-file');

const EMPTY: CircuitProblem = {
  kind: 'not-a-circuit-file',
  sentence:
    'Expected a circuit (GeoJSON) or a recorded lap (GPX or GeoJSON), but the file is empty. Save it again, and look that it has a size.',
  at: [],
};
