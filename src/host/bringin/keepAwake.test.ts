import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it, vi } from 'vitest';
import { keepAwake } from './keepAwake.js';

const sleeper = [process.execPath, '-e', 'setTimeout(() => undefined, 60_000)'];

describe('keeping awake', () => {
  it('BI74: tells at once that no helper could be started, or that it gave up', async () => {
    const told: string[] = [];
    keepAwake('a test', (why) => told.push(why), ['no-such-helper-here']);
    await vi.waitFor(() => expect(told).toEqual(['no-such-helper-here is not on this computer']));
    keepAwake('a test', (why) => told.push(why), [process.execPath, '-e', '']);
    await vi.waitFor(() => expect(told.slice(1)).toEqual([`${process.execPath} was refused`]));
    keepAwake('a test', (why) => told.push(why), null);
    expect(told.at(-1)).toContain('knows no way');
  });

  it('BI74: tells nothing when it was let go', async () => {
    const told: string[] = [];
    keepAwake('a test', (why) => told.push(why), sleeper).release();
    await wait(200);
    expect(told).toEqual([]);
  });
});
