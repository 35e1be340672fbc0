/** Hears what changed and marks the views that it touches as stale. */
import type { QueryClient } from '@tanstack/react-query';
import type { ChangedEvent, DayView } from '../../server/types.js';
import { createStore } from '../stores/store.js';
import { desk } from './client.js';

/** Since when the desk has not been heard; null while it is. */
export const lostSince = createStore<number | null>(null);

async function freshenCards(queries: QueryClient): Promise<void> {
  const { cards, urgent } = await desk.cards();
  queries.setQueriesData<DayView>({ queryKey: ['day'] }, (day) => day && { ...day, cards, urgent });
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
    if (missed || event.changed.includes('day') || event.changed.includes('notices')) void queries.invalidateQueries();
    else if (event.changed.includes('actions')) void queries.invalidateQueries({ queryKey: ['actions'] });
    if (event.changed.includes('cards')) void freshenCards(queries).catch(() => undefined);
  });
  source.addEventListener('error', () => lostSince.update((since) => since ?? Date.now()));
  return () => source.close();
}
