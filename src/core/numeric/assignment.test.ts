import fc from 'fast-check';
import { expect, it } from 'vitest';
import { assign } from './assignment.js';

const total = (cost: readonly (readonly number[])[], chosen: Int32Array): number =>
  [...chosen].reduce((sum, column, row) => sum + (column < 0 ? 0 : cost[row]![column]!), 0);
const solve = (cost: readonly (readonly number[])[]): Int32Array =>
  assign(Float64Array.from(cost.flat()), cost.length, cost[0]!.length);

it('costs 5 in the example of SciPy’s linear_sum_assignment', () => {
  // Source: SciPy reference, scipy.optimize.linear_sum_assignment, example.
  const cost = [
    [4, 1, 3],
    [2, 0, 5],
    [3, 2, 2],
  ];
  expect(total(cost, solve(cost))).toBe(5);
});

it('costs 265 in the example of OR-Tools, worker 4 left idle', () => {
  // Source: Google OR-Tools guide, "Solving an assignment problem" (5 workers, 4 tasks).
  const cost = [
    [90, 80, 75, 70],
    [35, 85, 55, 65],
    [125, 95, 90, 95],
    [45, 110, 95, 115],
    [50, 100, 90, 100],
  ];
  const chosen = solve(cost);
  expect(total(cost, chosen)).toBe(265);
  expect([...chosen]).toEqual([3, 2, 1, 0, -1]);
});

it('is as cheap as the best of all ways on small cases', () => {
  const matrix = fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 4 })).chain(([rows, columns]) =>
    fc.array(fc.array(fc.integer({ min: -20, max: 20 }), { minLength: columns, maxLength: columns }), {
      minLength: rows,
      maxLength: rows,
    }),
  );
  fc.assert(
    fc.property(matrix, (cost) => {
      expect(total(cost, solve(cost))).toBe(cheapestByTrying(cost));
    }),
  );
});

function cheapestByTrying(cost: readonly (readonly number[])[]): number {
  const rows = cost.length;
  const columns = cost[0]!.length;
  const most = Math.min(rows, columns);
  let best = Number.POSITIVE_INFINITY;
  const go = (row: number, used: number, placed: number, sum: number): void => {
    if (row === rows) {
      if (placed === most) best = Math.min(best, sum);
      return;
    }
    go(row + 1, used, placed, sum);
    for (let j = 0; j < columns; j++)
      if ((used & (1 << j)) === 0) go(row + 1, used | (1 << j), placed + 1, sum + cost[row]![j]!);
  };
  go(0, 0, 0, 0);
  return best;
}
