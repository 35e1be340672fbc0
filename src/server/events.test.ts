import { describe, expect, it } from 'vitest';
import { gatherChanges, LEAST_MS_BETWEEN_EVENTS, type Timer } from './events.js';
import { cardUnderWay, createFakeDay } from './testing/fakeDay.js';
import type { ChangedEvent } from './types.js';

/** A clock that moves only when told. */
const handTimer = () => {
  let now = 0;
  let waiting: { at: number; run: () => void }[] = [];
  const timer: Timer = {
    now: () => now,
    after: (ms, run) => {
      const entry = { at: now + ms, run };
      waiting.push(entry);
      return () => {
        waiting = waiting.filter((other) => other !== entry);
      };
    },
  };
  const pass = (ms: number) => {
    now += ms;
    const due = waiting.filter((entry) => entry.at <= now);
    waiting = waiting.filter((entry) => entry.at > now);
    for (const entry of due) entry.run();
  };
  return { timer, pass };
};

describe('what changed', () => {
  it('DK21: a hundred changes in a second are told as four events, and the last one is never lost', () => {
    const day = createFakeDay({ frames: 60, riders: 9 });
    const { timer, pass } = handTimer();
    const heard: { at: number; event: ChangedEvent }[] = [];
    const changes = gatherChanges(day, timer);
    changes.subscribe((event) => heard.push({ at: timer.now(), event }));
    for (let i = 0; i < 100; i++) {
      day.setCards([cardUnderWay({ filesRead: i })]);
      pass(10);
    }
    const inOneSecond = heard.filter(({ at }) => at < 1000).length;
    expect(inOneSecond).toBeLessThanOrEqual(4);
    expect(inOneSecond).toBeGreaterThanOrEqual(3);
    const gaps = heard.slice(1).map(({ at }, i) => at - heard[i]!.at);
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(LEAST_MS_BETWEEN_EVENTS);
    const before = heard.length;
    day.notice('The second disk is full.');
    pass(LEAST_MS_BETWEEN_EVENTS);
    expect(heard.length).toBe(before + 1);
    expect(heard.at(-1)?.event.changed).toContain('notices');
    changes.close();
  });
});
