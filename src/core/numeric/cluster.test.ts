import fc from 'fast-check';
import { expect, it } from 'vitest';
import { averageLinkage } from './cluster.js';

function square(n: number, of: (i: number, j: number) => number): Float32Array {
  const out = new Float32Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) out[i * n + j] = of(Math.max(i, j), Math.min(i, j));
  return out;
}

it('joins in the order and at the heights of SciPy’s average linkage', () => {
  // Source: scipy.cluster.hierarchy.linkage(X, "average") for X = 0, 1, 5, 6.5, 20 on a line (SciPy 1.10.1): merges at
  // 1, 1.5, 5.25 and 16.875. Similarity here is minus the distance, so a threshold between two heights cuts there.
  const x = [0, 1, 5, 6.5, 20];
  const at = (height: number): number[] => [
    ...averageLinkage(
      5,
      square(5, (i, j) => -Math.abs(x[i]! - x[j]!)),
      new Uint8Array(25),
      -height,
    ),
  ];
  expect(at(0.99)).toEqual([0, 1, 2, 3, 4]);
  expect(at(1.01)).toEqual([0, 0, 1, 2, 3]);
  expect(at(1.51)).toEqual([0, 0, 1, 1, 2]);
  expect(at(5.24)).toEqual([0, 0, 1, 1, 2]);
  expect(at(5.26)).toEqual([0, 0, 0, 0, 1]);
  expect(at(16.87)).toEqual([0, 0, 0, 0, 1]);
  expect(at(16.88)).toEqual([0, 0, 0, 0, 0]);
});

it('never puts two items together that must stay apart', () => {
  const cases = fc.integer({ min: 2, max: 9 }).chain((n) =>
    fc.record({
      n: fc.constant(n),
      similarity: fc.array(fc.float({ min: -1, max: 1, noNaN: true }), { minLength: n * n, maxLength: n * n }),
      apart: fc.array(fc.boolean(), { minLength: n * n, maxLength: n * n }),
    }),
  );
  fc.assert(
    fc.property(cases, ({ n, similarity, apart }) => {
      const isApart = (i: number, j: number): boolean => apart[Math.max(i, j) * n + Math.min(i, j)]!;
      const banned = new Uint8Array(n * n);
      for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) banned[i * n + j] = i !== j && isApart(i, j) ? 1 : 0;
      const labels = averageLinkage(
        n,
        square(n, (i, j) => similarity[i * n + j]!),
        banned,
        -2,
      );
      for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) if (isApart(i, j)) expect(labels[i]).not.toBe(labels[j]);
    }),
  );
});
