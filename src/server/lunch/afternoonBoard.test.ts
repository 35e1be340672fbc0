import { describe, expect, it } from 'vitest';
import type { AfternoonView } from '../../host/plan/lunch/types.js';
import { type AfternoonAsk, createAfternoonBoard } from './afternoonBoard.js';

const NONE: AfternoonView = { kind: 'none', sentence: 'Nothing is left to plan.' };

function setUp() {
  let told = 0;
  const board = createAfternoonBoard(
    () => 5000,
    () => told++,
  );
  let ask: AfternoonAsk | null = null;
  let answer: (view: AfternoonView) => void = () => undefined;
  let fail: (error: Error) => void = () => undefined;
  const search = (asked: AfternoonAsk): Promise<AfternoonView> => {
    ask = asked;
    return new Promise((resolve, reject) => {
      answer = resolve;
      fail = reject;
    });
  };
  return {
    board,
    search,
    told: () => told,
    ask: () => ask!,
    answer: async (view: AfternoonView) => {
      answer(view);
      await Promise.resolve();
      await Promise.resolve();
    },
    fail: async (error: Error) => {
      fail(error);
      await Promise.resolve();
      await Promise.resolve();
    },
  };
}

describe('the search for an afternoon', () => {
  it('PL1231: one search at a time; it is told when it begins, when a plan is there, and when it ends', async () => {
    const { board, search, told, ask, answer } = setUp();
    expect(board.start('a', search)).toBe(true);
    expect(board.start('b', search)).toBe(false);
    expect(board.current()).toEqual({ kind: 'running', startedMs: 5000, hasPlan: false });
    ask().onFirst();
    expect(board.current()).toMatchObject({ kind: 'running', hasPlan: true });
    await answer(NONE);
    expect(board.current()).toEqual({ kind: 'answered', answer: NONE, asked: 'a' });
    expect(told()).toBe(3);
  });

  it('PL1231: stopping asks the solver for the best until then, and what it answers is the answer', async () => {
    const { board, search, ask, answer } = setUp();
    board.start('a', search);
    expect(ask().signal.aborted).toBe(false);
    board.stop();
    expect(ask().signal.aborted).toBe(true);
    await answer(NONE);
    expect(board.current().kind).toBe('answered');
  });

  it('PL1231: what failed is told in its own words, and may be asked again', async () => {
    const { board, search, fail } = setUp();
    board.start('a', search);
    await fail(new Error('The solver stopped (code 1); ask again.'));
    expect(board.current()).toEqual({ kind: 'failed', sentence: 'The solver stopped (code 1); ask again.' });
    expect(board.start('a', search)).toBe(true);
  });

  it('PL1234: what was found is forgotten when it is put away; a search under way is not', async () => {
    const { board, search, answer } = setUp();
    board.start('a', search);
    board.putAway();
    expect(board.current().kind).toBe('running');
    await answer(NONE);
    board.putAway();
    expect(board.current()).toEqual({ kind: 'idle' });
  });
});
