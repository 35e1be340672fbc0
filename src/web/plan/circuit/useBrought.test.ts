import { describe, expect, it } from 'vitest';
import { type Reading, readingAfter } from './useBrought.js';

const BEGUN: Reading = { brought: null, share: 0, secondsLeft: null, wrong: null };

describe('a file that is being read', () => {
  it('PL123: tells how much is read, and the time left once enough is known of it', () => {
    const early = readingAfter(BEGUN, { kind: 'share', nth: 1, share: 0.01 }, 'day.gpx', 2000);
    expect([early.share, early.secondsLeft]).toEqual([0.01, null]);
    const later = readingAfter(early, { kind: 'share', nth: 1, share: 0.25 }, 'day.gpx', 2000);
    expect(later.secondsLeft).toBeCloseTo(6);
  });

  it('PL123: what was read before stands while it is read anew, and a failure is a sentence', () => {
    const brought = { kind: 'recorded', circuit: null, problems: [], sentence: 'Two laps.' } as const;
    const read = readingAfter(BEGUN, { kind: 'read', nth: 1, brought }, 'day.gpx', 9);
    const anew = readingAfter(read, { kind: 'share', nth: 2, share: 0.5 }, 'day.gpx', 9);
    expect(anew.brought).toBe(brought);
    const failed = readingAfter(anew, { kind: 'failed', nth: 2, why: 'NotFoundError' }, 'day.gpx', 9);
    expect(failed.wrong).toBe('day.gpx cannot be read: NotFoundError. Choose it again.');
  });
});
