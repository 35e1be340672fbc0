import { describe, expect, it } from 'vitest';
import { confusionRows } from './confusion.js';

describe('the table of colours meant and said', () => {
  it('has a row for each meant and a column for each said, with neighbours in brackets', () => {
    const rows = confusionRows([
      { meant: 'orange', said: 'orange' },
      { meant: 'orange', said: 'red' },
      { meant: 'orange', said: 'red' },
      { meant: 'black', said: 'white' },
      { meant: 'black', said: null },
    ]);
    expect(rows.map((row) => row.trim().split(/\s{2,}/))).toEqual([
      ['meant \\ said', 'white', 'orange', 'red', 'no bike'],
      ['black', '1', '·', '·', '1'],
      ['orange', '·', '=1', '(2)', '·'],
    ]);
  });
});
