/** Instances whose answers others published: the solver that is shipped answers them rightly. */
import { beforeAll, describe, expect, test } from 'vitest';
import { assign } from '../../../core/numeric/assignment.js';
import { type Highs, type RunOutcome, runModel, startHighs } from './highs.js';

let highs: Highs;
beforeAll(async () => {
  highs = await startHighs();
});

const run = (text: string): RunOutcome => runModel(highs, text, { gap: 0, timeLimitS: 60 });
const solution = (text: string) => {
  const outcome = run(text);
  if (outcome.kind !== 'solution') throw new Error(`Expected a solution but got: ${outcome.kind}`);
  return outcome;
};
const objective = (text: string) => solution(text).objective;

/** Each row does one task at most, each task is done: the cheapest way. */
function assignment(costs: readonly (readonly number[])[]): string {
  const cells = costs.flatMap((row, i) => row.map((cost, j) => ({ cost, name: `x${i}_${j}`, i, j })));
  const tasks = costs[0]!.map((_, j) => j);
  const sum = (names: readonly string[]) => names.join(' + ');
  return [
    'Minimize',
    ` cost: ${cells.map(({ cost, name }) => `${cost} ${name}`).join(' + ')}`,
    'Subject To',
    ...costs.map((_, i) => ` w${i}: ${sum(cells.filter((cell) => cell.i === i).map(({ name }) => name))} <= 1`),
    ...tasks.map((j) => ` t${j}: ${sum(cells.filter((cell) => cell.j === j).map(({ name }) => name))} = 1`),
    'Binary',
    ...cells.map(({ name }) => ` ${name}`),
    'End',
  ].join('\n');
}

describe('published instances', () => {
  test('the linear programme of the HiGHS for JavaScript README: 87.5 at (17.5, 1, 16.5, 2)', () => {
    const { objective: worth, valueFor } = solution(`Maximize
 obj: x1 + 2 x2 + 4 x3 + x4
Subject To
 c1: - x1 + x2 + x3 + 10 x4 <= 20
 c2: x1 - 4 x2 + x3 <= 30
 c3: x2 - 0.5 x4 = 0
Bounds
 0 <= x1 <= 40
 2 <= x4 <= 3
End`);
    expect(worth).toBeCloseTo(87.5, 9);
    expect(['x1', 'x2', 'x3', 'x4'].map(valueFor)).toEqual([17.5, 1, 16.5, 2]);
  });

  test('the assignment of five workers to four tasks in the OR-Tools documentation: 265, the fifth idle', () => {
    const costs = [
      [90, 80, 75, 70],
      [35, 85, 55, 65],
      [125, 95, 90, 95],
      [45, 110, 95, 115],
      [50, 100, 90, 100],
    ];
    const { objective: cost, valueFor } = solution(assignment(costs));
    expect(cost).toBeCloseTo(265, 9);
    const taskOf = (worker: number) => [0, 1, 2, 3].find((task) => valueFor(`x${worker}_${task}`) > 0.5);
    expect([0, 1, 2, 3, 4].map(taskOf)).toEqual([3, 2, 1, 0, undefined]);
  });

  test('the three by three assignment of the SciPy documentation: 5', () => {
    expect(
      objective(
        assignment([
          [4, 1, 3],
          [2, 0, 5],
          [3, 2, 2],
        ]),
      ),
    ).toBeCloseTo(5, 9);
  });

  test('an assignment of forty to forty costs what the augmenting paths of core/numeric find', () => {
    const costs = Array.from({ length: 40 }, (_, i) =>
      Array.from({ length: 40 }, (__, j) => ((i * 7919 + j * 104_729 + i * j * 31) % 97) + 1),
    );
    const columns = assign(Float64Array.from(costs.flat()), 40, 40);
    const cheapest = columns.reduce((sum, column, row) => sum + costs[row]![column]!, 0);
    expect(new Set(columns).size).toBe(40);
    expect(objective(assignment(costs))).toBeCloseTo(cheapest, 9);
  });

  test('the integer programme of the OR-Tools documentation: x + 10 y is 23 at (3, 2)', () => {
    const { objective: worth, valueFor } = solution(`Maximize
 obj: x + 10 y
Subject To
 c1: x + 7 y <= 17.5
 c2: x <= 3.5
General
 x
 y
End`);
    expect([worth, valueFor('x'), valueFor('y')]).toEqual([23, 3, 2]);
  });

  test('knapsack P01 of the KNAPSACK_01 data sets of Florida State University: 309, 1111010000', () => {
    const weights = [23, 31, 29, 44, 53, 38, 63, 85, 89, 82];
    const profits = [92, 57, 49, 68, 60, 43, 67, 84, 87, 72];
    const sum = (factors: readonly number[]) => factors.map((factor, i) => `${factor} x${i}`).join(' + ');
    const { objective: worth, valueFor } = solution(
      `Maximize\n obj: ${sum(profits)}\nSubject To\n c: ${sum(weights)} <= 165\nBinary\n${weights.map((_, i) => ` x${i}`).join('\n')}\nEnd`,
    );
    expect(worth).toBeCloseTo(309, 9);
    expect(weights.map((_, i) => Math.round(valueFor(`x${i}`))).join('')).toBe('1111010000');
  });

  test('a pair of rows that contradict each other is impossible', () => {
    expect(run('Maximize\n obj: x\nSubject To\n c1: x >= 2\n c2: x <= 1\nEnd')).toEqual({ kind: 'impossible' });
  });

  test('twenty repeats are identical', () => {
    const costs = Array.from({ length: 8 }, (_, i) =>
      Array.from({ length: 8 }, (__, j) => ((i * 7 + j * 13) % 17) + 1),
    );
    const first = solution(assignment(costs));
    const names = costs.flatMap((row, i) => row.map((_, j) => `x${i}_${j}`));
    for (let i = 0; i < 20; i += 1) {
      const again = solution(assignment(costs));
      expect(names.map(again.valueFor)).toEqual(names.map(first.valueFor));
    }
  });
});
