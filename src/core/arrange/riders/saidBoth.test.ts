import { describe, expect, it } from 'vitest';
import type { FileId } from '../../ids.js';
import type { BikePoint } from '../../log/types.js';
import type { RiderDecision } from '../decisions.js';
import { settleStatements } from './statements.js';

const at = (bike: number): BikePoint => ({ file: String(bike) as FileId, x: 0.5, y: 0.5 });
const same = (...bikes: readonly number[]): RiderDecision => ({ kind: 'same-rider', points: bikes.map(at) });
const two = (...bikes: readonly number[]): RiderDecision => ({ kind: 'different-riders', points: bikes.map(at) });
/** Bikes 8 and 9 are in one picture. */
const settle = (...said: readonly RiderDecision[]) =>
  settleStatements(said, ({ file }) => Number(file), {
    isOneFrame: (a, b) => a + b === 17,
    forbiddenByLaps: () => null,
  });

describe('contrary words', () => {
  it('AR15: are asked until one more word is said of the pair, whichever it is', () => {
    const asked = settle(two(1, 2), same(1, 2));
    expect(asked.contradictions).toEqual([{ a: 1, b: 2, kind: 'said-both' }]);
    expect(asked.together).toContainEqual([1, 2]);
    const joined = settle(two(1, 2), same(1, 2), same(1, 2));
    expect(joined).toMatchObject({ contradictions: [], together: [[1, 2]] });
    const parted = settle(two(1, 2), same(1, 2), two(1, 2));
    expect(parted).toMatchObject({ contradictions: [], different: [[1, 2]] });
  });

  it('AR15: said again of the pair and of those that part it, the two are one rider or two, and nothing is asked', () => {
    const asked = settle(same(1, 2), two(1, 3), same(2, 3));
    expect(asked.contradictions).toMatchObject([{ kind: 'follows-from-others' }]);
    const { a, b, partedBy = [] } = asked.contradictions[0]!;
    const pairs = [[a, b] as const, ...partedBy];
    const before = [same(1, 2), two(1, 3), same(2, 3)];
    const joined = settle(...before, ...pairs.map((pair) => same(...pair)));
    expect(joined).toMatchObject({ contradictions: [], together: [[1, 2, 3]], different: [] });
    const parted = settle(...before, ...pairs.map((pair) => two(...pair)));
    expect(parted.contradictions).toEqual([]);
    expect(parted.together).toContainEqual([2, 3]);
    expect(parted.together).not.toContainEqual([1, 2, 3]);
  });

  it('AR15: two bikes of one picture are asked about until they are said to be two', () => {
    expect(settle(same(8, 9)).contradictions).toEqual([{ a: 8, b: 9, kind: 'one-frame' }]);
    expect(settle(same(8, 9), two(8, 9)).contradictions).toEqual([]);
  });
});
