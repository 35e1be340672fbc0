import { describe, expect, it } from 'vitest';
import type { SpotId } from '../../core/ids.js';
import type { SheetRow } from '../../core/plan/sheet/types.js';
import { type WallMs, wallMsOf } from '../../core/units.js';
import { routeOf } from './routeOf.js';

const at = (minute: number): WallMs => wallMsOf(minute * 60_000);
const way = (from: number, minutes: number): SheetRow => ({
  kind: 'way',
  from: at(from),
  to: at(from + minutes),
  minutes,
  by: 'foot',
  words: 'walk',
});
const stay = (id: string): SheetRow => ({
  kind: 'stay',
  from: at(0),
  to: at(0),
  spot: { id: id as SpotId, number: 1, name: id },
  sessions: [],
  light: null,
  lens: null,
  sure: null,
  slow: null,
  notes: [],
  cautions: [],
  isSaid: false,
});
const line = (is: 'before' | 'lunch' | 'after'): SheetRow => ({ kind: 'line', is, at: null, words: '' });

describe('one’s way on the map', () => {
  it('PL1302: goes from the van by the spots in their order, to the van at lunch and out again; gone ways are done', () => {
    const rows = [
      line('before'),
      way(0, 5),
      stay('quay'),
      way(60, 7),
      stay('mole'),
      way(120, 9),
      line('lunch'),
      way(200, 9),
      stay('mole'),
      line('after'),
    ];
    expect(routeOf(rows, at(67))).toEqual([
      { from: null, to: 'quay', minutes: 5, isDone: true },
      { from: 'quay', to: 'mole', minutes: 7, isDone: true },
      { from: 'mole', to: null, minutes: 9, isDone: false },
      { from: null, to: 'mole', minutes: 9, isDone: false },
    ]);
  });

  it('PL1302: where no way is known none is drawn', () => {
    expect(routeOf([stay('quay'), stay('mole')], 0)).toEqual([]);
  });
});
