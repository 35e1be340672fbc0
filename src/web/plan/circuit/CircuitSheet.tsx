/** The circuit: brought in where there is none, drawn on where there is one. */
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { circuitQuery } from '../../api/queries.js';
import { Trouble } from '../../sheets/Trouble.js';
import { DrawCircuit } from './DrawCircuit.js';
import { NewCircuit } from './NewCircuit.js';

export function CircuitSheet() {
  const { data, error } = useQuery(circuitQuery);
  const [isAnew, setAnew] = useState(false);
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  if (data.circuit === null || isAnew) return <NewCircuit view={data} done={() => setAnew(false)} />;
  return <DrawCircuit view={data} circuit={data.circuit} bringAnother={() => setAnew(true)} />;
}
