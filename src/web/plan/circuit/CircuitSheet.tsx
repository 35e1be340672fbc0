/** The circuit: brought in where there is none, drawn on where there is one. */
import { useQuery } from '@tanstack/react-query';
import { lazy, Suspense, useState } from 'react';
import { circuitQuery } from '../../api/queries.js';
import { Trouble } from '../../sheets/Trouble.js';
import { DrawCircuit } from './DrawCircuit.js';

/** Reading files of other programs takes code that no other sheet needs. */
const NewCircuit = lazy(() => import('./NewCircuit.js').then((part) => ({ default: part.NewCircuit })));

/** Another circuit is looked at in place of the one there is. */
interface Anew {
  readonly dropped: File | null;
}

export function CircuitSheet() {
  const { data, error } = useQuery(circuitQuery);
  const [anew, setAnew] = useState<Anew | null>(null);
  if (error) return <Trouble sentence={error.message} />;
  if (!data) return <main id="sheet" aria-busy="true" />;
  if (data.circuit === null || anew !== null)
    return (
      <Suspense fallback={<main id="sheet" aria-busy="true" />}>
        <NewCircuit view={data} dropped={anew?.dropped ?? null} done={() => setAnew(null)} />
      </Suspense>
    );
  return <DrawCircuit view={data} circuit={data.circuit} bringAnother={(dropped) => setAnew({ dropped })} />;
}
