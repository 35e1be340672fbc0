/** Hears what changed and marks the views that it touches as stale. */
import type { QueryClient } from '@tanstack/react-query';
import type { ChangedEvent, DayView } from '../../server/types.js';
import { createStore } from '../stores/store.js';
import { DeskProblem, desk } from './client.js';

/** Since when the desk has not been heard; null while it is. */
export const lostSince = createStore<number | null>(null);

async function freshenCards(queries: QueryClient): Promise<void> {
  const { cards, urgent } = await desk.cards();
  queries.setQueriesData<DayView>({ queryKey: ['day'] }, (day) => day && { ...day, cards, urgent });
}

/** What the desk says to a screen it does not know, as after it was started again; null while it knows this one. */
export const turnedAway = createStore<string | null>(null);

const AGAIN_MS = 2000;

/** A browser asks again by itself while nobody answers, but gives up for good at a refusal: then the desk says why. */
async function whenGivenUp(queries: QueryClient): Promise<void> {
  const problem = await desk.cards().then(
    () => null,
    (error: unknown) => (error instanceof DeskProblem && error.status === 401 ? error.message : null),
  );
  turnedAway.set(problem);
  if (problem === null) setTimeout(() => followChanges(queries), AGAIN_MS);
}

export function followChanges(queries: QueryClient): () => void {
  const source = new EventSource('/api/events');
  let seen: number | null = null;
  source.addEventListener('changed', (message) => {
    const event = JSON.parse(message.data as string) as ChangedEvent;
    lostSince.set(null);
    // After a break the first event tells the state; if it moved on meanwhile, all views are stale.
    const missed = event.changed.length === 0 && seen !== null && seen !== event.asOf;
    seen = event.asOf;
    if (missed || event.changed.includes('day') || event.changed.includes('notices'))
      void queries.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] !== 'looks' });
    else if (event.changed.includes('actions')) void queries.invalidateQueries({ queryKey: ['actions'] });
    if (event.changed.includes('orders')) void queries.invalidateQueries({ queryKey: ['orders'] });
    if (event.changed.includes('lunch'))
      void queries.invalidateQueries({ predicate: ({ queryKey }) => queryKey[0] === 'lunch' || queryKey[0] === 'kit' });
    if (event.changed.includes('plan'))
      void queries.invalidateQueries({
        predicate: ({ queryKey }) => queryKey[0] === 'plan' && queryKey[1] !== 'ladder',
      });
    if (event.changed.includes('cards')) void freshenCards(queries).catch(() => undefined);
  });
  source.addEventListener('error', () => {
    lostSince.update((since) => since ?? Date.now());
    if (source.readyState === EventSource.CLOSED) void whenGivenUp(queries);
  });
  return () => source.close();
}
