import { describe, expect, it } from 'vitest';
import type { SpotId } from '../../ids.js';
import { degreesOf, type UnitInterval, type WallMs } from '../../units.js';
import { crossings, placedWords, type RowScale, threadShapes } from './sunRowShapes.js';
import type { SheetStand, SheetSun } from './types.js';

const wall = (at: number) => at as WallMs;
/** A pixel a minute. */
const scale: RowScale = { from: wall(0), to: wall(600 * 60_000), x: (at) => at / 60_000 };
const SIZE = { rowPx: 26, threads: 4 };
const at = (minute: number, shade: number) => ({ at: wall(minute * 60_000), shade: shade as UnitInterval });

const heightOf = (shape: readonly (readonly [number, number])[]) =>
  Math.max(...shape.map(([, y]) => y)) - Math.min(...shape.map(([, y]) => y));

describe('a sun row as shapes', () => {
  it('PL1302: a thread is a hair where the sun is behind the lens, and nearly all its room against it', () => {
    const thin = threadShapes({ kind: 'whole', points: [at(0, 0), at(60, 0)] }, scale, 0, SIZE);
    const thick = threadShapes({ kind: 'whole', points: [at(0, 1), at(60, 1)] }, scale, 0, SIZE);
    expect(thin).toHaveLength(4);
    expect(heightOf(thin[0]!)).toBeCloseTo(0.35);
    expect(heightOf(thick[0]!)).toBeCloseTo(5 - 0.35);
    const lowest = Math.max(...thick.flat().map(([, y]) => y));
    const highest = Math.min(...thick.flat().map(([, y]) => y));
    expect(lowest).toBeLessThan(26);
    expect(highest).toBeGreaterThan(0);
  });

  it('PL1302: where the sun is low the threads break; nothing is drawn outside the hours', () => {
    const broken = threadShapes({ kind: 'broken', points: [at(0, 0.5), at(60, 0.5)] }, scale, 0, SIZE);
    expect(broken).toHaveLength(4 * 10);
    for (const shape of broken) expect(Math.max(...shape.map(([x]) => x)) - Math.min(...shape.map(([x]) => x))).toBe(3);
    expect(threadShapes({ kind: 'whole', points: [at(-60, 1), at(-30, 1)] }, scale, 0, SIZE)).toEqual([]);
  });

  const spot = { id: 'quay' as SpotId, number: 1, name: 'Quay' };
  const row: SheetSun = {
    spot,
    viewAzimuthDeg: degreesOf(0),
    threads: [],
    changes: [],
    words: [{ from: wall(0), to: wall(100 * 60_000), word: 'front' }],
  };
  const standing = (from: number, to: number): SheetStand => ({
    spot,
    from: wall(from * 60_000),
    to: wall(to * 60_000),
    isDone: false,
  });

  it('PL1302: a word stands in the widest part that one’s own stands leave free, and nowhere else', () => {
    const place = (stands: readonly SheetStand[]) => placedWords(row, stands, scale, () => 20);
    expect(place([])).toEqual([{ word: 'front', width: 30, middle: 50 }]);
    expect(place([standing(0, 40)])).toEqual([{ word: 'front', width: 30, middle: 71.5 }]);
    expect(place([standing(0, 80)])).toEqual([]);
    const elsewhere = { ...standing(0, 80), spot: { ...spot, id: 'mole' as SpotId } };
    expect(place([elsewhere])).toHaveLength(1);
  });

  it('PL1302: a way takes the room of the rows it crosses, for as long as it is in them', () => {
    const rows = ['quay', 'mole', 'sluice'].map((id, i) => ({
      ...row,
      spot: { id: id as SpotId, number: i + 1, name: id },
    }));
    const last = { ...standing(60, 100), spot: rows[2]!.spot };
    const minutes = crossings(rows, [standing(0, 40), last]).map(
      (taken) => `${taken.spot.id} ${taken.from / 60_000} to ${taken.to / 60_000}`,
    );
    expect(minutes).toEqual(['quay 40 to 45', 'mole 45 to 55', 'sluice 55 to 60']);
    expect(crossings(rows, [standing(0, 40), standing(50, 60)])).toEqual([standing(40, 50)]);
  });
});
