import { describe, expect, it } from 'vitest';
import type { CardProgress } from '../core/bringin/types.js';
import type { FillId } from '../core/ids.js';
import { cardLines } from './cardLines.js';

const card: CardProgress = {
  card: '/media/A',
  fill: 'f' as FillId,
  folder: 'A-f',
  filesTotal: 2,
  bytesTotal: 20,
  filesRead: 2,
  bytesRead: 20,
  copies: [],
  troubles: [],
  verdict: { kind: 'may-be-formatted', sentence: 'This card may be formatted: all 2 files.' },
  secondsLeft: null,
  state: 'finished',
};
const keep = (...missing: readonly string[]): Partial<CardProgress> => ({
  verdict: { kind: 'keep', sentence: `Keep this card as it is. ${missing[0]}`, missing },
});

describe('what is said of a card in the terminal', () => {
  it('says that all is here already when the same card comes again', () => {
    expect(cardLines({ ...card, filesTotal: 0, alreadyHere: 12 })).toEqual([
      '/media/A: All 12 files were here already; nothing was copied.',
      '/media/A: This card may be formatted: all 2 files.',
    ]);
    expect(cardLines({ ...card, alreadyHere: 12 })[0]).toBe('/media/A: 2 files to copy; 12 were here already.');
  });

  it('gives every reason to keep a card, and each once', () => {
    const lines = cardLines({
      ...card,
      ...keep('There is one copy only.', 'Disk B is full.', 'Disk B is full.'),
      troubles: ['Disk B is full.', 'One file could not be read.', 'One file could not be read.'],
    });
    expect(lines).toEqual([
      '/media/A: One file could not be read.',
      '/media/A: Keep this card as it is, for 2 reasons:',
      '/media/A: – There is one copy only.',
      '/media/A: – Disk B is full.',
    ]);
  });

  it('says one reason in one line, and no name breaks a line', () => {
    expect(cardLines({ ...card, card: '/media/A\nB', ...keep('One\ncopy.') })).toEqual([
      '/media/A\ufffdB: Keep this card as it is. One\ufffdcopy.',
    ]);
  });
});
