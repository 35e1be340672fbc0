import { describe, expect, it } from 'vitest';
import type { Exposure } from '../../core/arrange/types.js';
import type { Day, DayState } from '../../host/day/types.js';
import type { KitLooker, LookAnswer } from '../../host/kit/index.js';
import { createDustBoard } from './dustBoard.js';

const divider = (frame: string, body = 'Maker|M1|7'): Exposure =>
  ({ frameId: frame, body, role: 'divider' }) as unknown as Exposure;

function setUp() {
  let exposures: readonly Exposure[] = [divider('a'), divider('b')];
  let left = 0;
  const day = {
    state: () => ({ arrangement: { exposures }, toMeasure: { left } }) as unknown as DayState,
    original: (frame: string) => (frame === 'b' ? null : `/cards/${frame}.jpg`),
  } as unknown as Day;
  const looks: { readonly files: readonly string[]; readonly answer: (answer: LookAnswer) => void }[] = [];
  const looker = {
    run: (job: { readonly kind: 'dust'; readonly files: readonly { readonly path: string }[] }) =>
      new Promise<LookAnswer>((resolve) => {
        looks.push({ files: job.files.map(({ path }) => path), answer: resolve });
      }),
  } as unknown as KitLooker;
  let told = 0;
  const board = createDustBoard(day, looker, () => told++);
  return {
    board,
    looks,
    told: () => told,
    measuring: (count: number) => {
      left = count;
    },
    show: (next: readonly Exposure[]) => {
      exposures = next;
    },
  };
}

const clean: LookAnswer = { kind: 'dust', found: { kind: 'looked', frames: 9, spots: [] } };

describe('dust at the desk', () => {
  it('PL1235: it is looked for once per body and set of dividers, from files that are here, and told of when it is done', async () => {
    const { board, looks, told } = setUp();
    expect(board.ofBodies()).toEqual([{ body: 'Maker|M1|7', found: { kind: 'looking' } }]);
    board.ofBodies();
    expect(looks.map(({ files }) => files)).toEqual([['/cards/a.jpg']]);
    looks[0]!.answer(clean);
    await Promise.resolve();
    expect(told()).toBe(1);
    expect(board.ofBodies()[0]!.found).toMatchObject({ kind: 'looked', frames: 9 });
    expect(looks).toHaveLength(1);
  });

  it('PL1235: while frames are still measured no look begins, and what was known stays', async () => {
    const { board, looks, measuring, show } = setUp();
    measuring(3);
    expect(board.ofBodies()[0]!.found).toMatchObject({ kind: 'cannot-tell' });
    expect(looks).toHaveLength(0);
    measuring(0);
    board.ofBodies();
    looks[0]!.answer(clean);
    await Promise.resolve();
    measuring(2);
    show([divider('a'), divider('b'), divider('c')]);
    expect(board.ofBodies()[0]!.found.kind).toBe('looked');
    expect(looks).toHaveLength(1);
    measuring(0);
    expect(board.ofBodies()[0]!.found.kind).toBe('looking');
    expect(looks).toHaveLength(2);
  });

  it('PL1235: an answer about frames that are no longer the ones is passed over', async () => {
    const { board, looks, show } = setUp();
    board.ofBodies();
    show([divider('c')]);
    board.ofBodies();
    looks[0]!.answer(clean);
    await Promise.resolve();
    expect(board.ofBodies()[0]!.found.kind).toBe('looking');
  });
});
