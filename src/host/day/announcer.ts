/** Events to listeners, at most four times a second; of what changed meanwhile only the newest is told. */
import type { CardProgress } from '../../core/bringin/types.js';
import type { DayEvent } from './types.js';

const LEAST_INTERVAL_MS = 250;

export interface Announcer {
  state(asOf: number): void;
  card(progress: CardProgress): void;
  notice(sentence: string, lasting?: 'passing'): void;
  subscribe(listener: (event: DayEvent) => void): () => void;
  /** Tells what is still waiting, and nothing after. */
  close(): void;
}

export function announcer(now: () => number = () => performance.now()): Announcer {
  const listeners = new Set<(event: DayEvent) => void>();
  const cards = new Map<string, CardProgress>();
  let asOf: number | null = null;
  let notices: Extract<DayEvent, { kind: 'notice' }>[] = [];
  let lastToldAt = Number.NEGATIVE_INFINITY;
  let timer: NodeJS.Timeout | null = null;

  const takeWaiting = (): readonly DayEvent[] => {
    const events: DayEvent[] = [
      ...notices,
      ...[...cards.values()].map((progress) => ({ kind: 'card', progress }) as const),
      ...(asOf === null ? [] : [{ kind: 'state', asOf } as const]),
    ];
    notices = [];
    cards.clear();
    asOf = null;
    return events;
  };
  const tell = (): void => {
    if (timer !== null) clearTimeout(timer);
    timer = null;
    lastToldAt = now();
    for (const event of takeWaiting()) for (const listener of listeners) listener(event);
  };
  const soon = (): void => {
    timer ??= setTimeout(tell, Math.max(0, lastToldAt + LEAST_INTERVAL_MS - now()));
    timer.unref();
  };

  return {
    state(newest) {
      asOf = newest;
      soon();
    },
    card(progress) {
      cards.set(progress.card, progress);
      soon();
    },
    notice(sentence, lasting) {
      notices.push({ kind: 'notice', sentence, ...(lasting === undefined ? {} : { isPassing: true }) });
      soon();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close() {
      tell();
      listeners.clear();
    },
  };
}
