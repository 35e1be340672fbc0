import { describe, expect, it } from 'vitest';
import type { FillId } from '../core/ids.js';
import { lineBoard, standingOfCard, standingOfVerify } from './progress.js';

const verifying = { filesTotal: 12, bytesTotal: 1200, path: '' };
const card = {
  card: 'A',
  fill: '' as FillId,
  folder: 'A',
  filesTotal: 0,
  bytesTotal: 0,
  filesRead: 0,
  bytesRead: 0,
  copies: [],
  troubles: [],
  verdict: null,
  secondsLeft: null,
};

describe('progress in a file', () => {
  it('never says a hundred before the last file is done, and then says all of them', () => {
    const said: string[] = [];
    const board = lineBoard((line) => said.push(line));
    board.show(standingOfVerify({ ...verifying, filesDone: 11, bytesDone: 1200 }));
    board.show(standingOfVerify({ ...verifying, filesDone: 12, bytesDone: 1200 }));
    board.show(standingOfVerify({ ...verifying, filesDone: 12, bytesDone: 1200 }));
    expect(said).toEqual(['reading back: 99 %  11 of 12 files, 1 kB', 'reading back: 100 %  12 of 12 files, 1 kB']);
  });

  it('is quiet for five seconds, and starts anew with the next piece of work of that name', () => {
    const said: string[] = [];
    let now = 0;
    const board = lineBoard(
      (line) => said.push(line),
      () => now,
    );
    for (now of [0, 2000, 6000])
      board.show(standingOfVerify({ ...verifying, filesDone: 1, bytesDone: 100 + now / 100 }));
    board.show(standingOfVerify({ ...verifying, filesDone: 12, bytesDone: 1200 }));
    board.show(standingOfVerify({ ...verifying, filesDone: 0, bytesDone: 12 }));
    expect(said.map((line) => line.split('  ')[0])).toEqual([
      'reading back: 8 %',
      'reading back: 13 %',
      'reading back: 100 %',
      'reading back: 1 %',
    ]);
  });

  it('shows nothing once it is closed', () => {
    const said: string[] = [];
    const board = lineBoard((line) => said.push(line));
    board.close();
    board.show(standingOfVerify({ ...verifying, filesDone: 11, bytesDone: 1200 }));
    expect(said).toEqual([]);
  });

  it('says of a card whose files are all here that they are', () => {
    expect(standingOfCard({ ...card, state: 'finished', alreadyHere: 12 })).toMatchObject({
      words: '12 files, all here already',
      hasEnded: true,
    });
    expect(standingOfCard({ ...card, state: 'finished' }).words).toBe('nothing to copy');
    expect(standingOfCard({ ...card, state: 'listing' }).words).toBe('looking at what is on it');
  });
});
