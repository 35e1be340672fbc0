import { describe, expect, it } from 'vitest';
import { type Action, createActionBoard, type Report } from './actions.js';

/** A clock moved by hand, and finals that report when they are told to. */
function setUp(more: Partial<Record<'makeProofs', Action>> = {}) {
  const at = { ms: 0 };
  const work: { report: Report; end: (sentence: string) => void; signal: AbortSignal }[] = [];
  const makeFinals: Action = (report, signal) =>
    new Promise((end) => {
      work.push({ report, end, signal });
    });
  const board = createActionBoard(
    { makeFinals, ...more },
    () => at.ms,
    () => undefined,
  );
  const view = () => board.views().find(({ name }) => name === 'finals')!;
  return { at, board, work, view };
}
const settled = () => new Promise((resolve) => setTimeout(resolve, 0));

describe('long work', () => {
  it('DK20: the time that is left counts what took time, not what stood there already', () => {
    const { at, board, work, view } = setUp();
    board.start('finals');
    at.ms = 2000;
    work[0]!.report({ done: 60, total: 100, made: 0 });
    expect(view()).toMatchObject({ state: 'running', done: 60, total: 100, secondsLeft: null });
    at.ms = 12_000;
    work[0]!.report({ done: 64, total: 100, made: 4 });
    expect(view().secondsLeft).toBe(3 * 36);
    work[0]!.report({ done: 64, total: 100 });
    expect(view().secondsLeft).toBe((12 / 64) * 36);
  });

  it('DK20: stopped, it says so when what was in hand is made; started again it goes on', async () => {
    const { board, work, view } = setUp();
    expect(board.stop('finals')).toBe(false);
    board.start('finals');
    work[0]!.report({ done: 3, total: 9, made: 3 });
    expect([board.start('finals'), work[0]!.signal.aborted, board.stop('finals')]).toEqual([false, false, true]);
    expect([work[0]!.signal.aborted, view().state]).toEqual([true, 'running']);
    work[0]!.end('4 finals.');
    await settled();
    expect(view()).toMatchObject({ state: 'stopped', done: 3, total: 9, secondsLeft: null, sentence: '4 finals.' });
    expect(board.start('finals')).toBe(true);
    expect([work[1]!.signal.aborted, view().state]).toEqual([false, 'running']);
  });

  it('DK20: told to stop when all was done it is finished; trouble is told in its own words', async () => {
    const { board, work, view } = setUp({ makeProofs: () => Promise.reject(new Error('the disk is full.')) });
    board.start('finals');
    work[0]!.report({ done: 9, total: 9 });
    board.stop('finals');
    work[0]!.end('9 finals.');
    board.start('proofs');
    await settled();
    expect(view().state).toBe('finished');
    expect(board.views()[0]).toMatchObject({ name: 'proofs', state: 'failed', sentence: 'Stopped: the disk is full.' });
  });

  it('a desk that closes stops what is under way', () => {
    const { board, work } = setUp();
    board.start('finals');
    board.close();
    expect(work[0]!.signal.aborted).toBe(true);
  });
});
