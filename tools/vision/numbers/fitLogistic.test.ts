import { expect, it } from 'vitest';
import { fitLogistic, saidBy } from './fitLogistic.js';

it('finds the log-odds of a two-by-two table, which is known in closed form', () => {
  // Of 40 with the clue 30 are right, of 60 without it 15: log-odds −log 3 without, and twice log 3 more with it.
  const group = (clue: number, right: number, wrong: number) => [
    ...Array.from({ length: right }, () => ({ clues: [1, clue], isRight: true })),
    ...Array.from({ length: wrong }, () => ({ clues: [1, clue], isRight: false })),
  ];
  const weights = fitLogistic([...group(1, 30, 10), ...group(0, 15, 45)], 0);
  expect(weights[0]).toBeCloseTo(-Math.log(3), 9);
  expect(weights[1]).toBeCloseTo(2 * Math.log(3), 9);
  expect(saidBy(weights, [1, 1])).toBeCloseTo(0.75, 9);
});

it('stays finite where a clue decides everything, for the ridge holds it', () => {
  const samples = [-2, -1, 1, 2].map((clue) => ({ clues: [1, clue], isRight: clue > 0 }));
  const [, weight] = fitLogistic(samples);
  expect(weight).toBeGreaterThan(0.5);
  expect(weight).toBeLessThan(5);
});
