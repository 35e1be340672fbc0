/** The circuit: brought in where there is none, drawn on where there is one. */
import { useQuery } from '@tanstack/react-query';
import { lazy, Suspense, useState } from 'react';
import { circuitQuery } from '../../api/queries.js';
import { Trouble } from '../../sheets/Trouble.js';
import { DrawCircuit } from './DrawCircuit.js';

/** Reading files of other programs takes code that no other sheet needs. */
const NewCircuit = lazy(() => import('./NewCircuit.js').then((part) => ({ default: part.NewCircuit })));

export function CircuitSheet() {
  const { data, error } = useQuery(circuitQuery);
  const [isAnew, setAnew] = useState(false);
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  if (data.circuit === null || isAnew)
    return (
      <Suspense fallback={<main id="sheet" aria-busy="true" />}>
        <NewCircuit view={data} done={() => setAnew(false)} />
      </Suspense>
    );
  return <DrawCircuit view={data} circuit={data.circuit} bringAnother={() => setAnew(true)} />;
}
