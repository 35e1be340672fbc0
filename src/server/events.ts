/** What changed, told at most four times a second, however often the day speaks. */
import type { Day, DayEvent } from '../host/day/types.js';
import type { ChangedEvent } from './types.js';

/** Four a second is settled by the design (point 15). */
export const LEAST_MS_BETWEEN_EVENTS = 250;

type Change = ChangedEvent['changed'][number];

const changeOf = (event: DayEvent): Change =>
  event.kind === 'state' ? 'day' : event.kind === 'card' ? 'cards' : 'notices';

export interface Changes {
  /** Hears of changes until the returned function is called. */
  subscribe(listener: (event: ChangedEvent) => void): () => void;
  announce(change: Change): void;
  close(): void;
}

export interface Timer {
  now(): number;
  after(ms: number, run: () => void): () => void;
}

const realTimer: Timer = {
  now: () => Date.now(),
  after: (ms, run) => {
    const timeout = setTimeout(run, ms);
    timeout.unref();
    return () => clearTimeout(timeout);
  },
};

/** Gathers what the day says: the first at once, the rest together when a quarter of a second has passed. */
export function gatherChanges(day: Day, timer: Timer = realTimer): Changes {
  const listeners = new Set<(event: ChangedEvent) => void>();
  const pending = new Set<Change>();
  let lastSent = Number.NEGATIVE_INFINITY;
  let cancel: (() => void) | null = null;

  const send = (): void => {
    cancel = null;
    lastSent = timer.now();
    const event: ChangedEvent = { asOf: day.state().asOf, changed: [...pending] };
    pending.clear();
    for (const listener of listeners) listener(event);
  };
  const announce = (change: Change): void => {
    pending.add(change);
    if (cancel) return;
    const wait = lastSent + LEAST_MS_BETWEEN_EVENTS - timer.now();
    if (wait <= 0) send();
    else cancel = timer.after(wait, send);
  };
  const unsubscribe = day.subscribe((event) => announce(changeOf(event)));
  return {
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    announce,
    close: () => {
      unsubscribe();
      cancel?.();
      listeners.clear();
    },
  };
}
