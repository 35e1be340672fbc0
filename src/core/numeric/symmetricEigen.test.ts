import fc from 'fast-check';
import { expect, it } from 'vitest';
import { symmetricEigen } from './symmetricEigen.js';

it('gives the eigenvalues of the second-difference matrix, 2 − 2 cos(kπ/(n+1))', () => {
  // Source: closed form; e.g. G. Strang, "The discrete cosine transform", SIAM Review 41 (1999) 135–147, for Dirichlet ends.
  const n = 24;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) matrix[i * n + j] = i === j ? 2 : Math.abs(i - j) === 1 ? -1 : 0;
  const { values } = symmetricEigen(matrix, n);
  for (let k = 1; k <= n; k++) expect(values[n - k]).toBeCloseTo(2 - 2 * Math.cos((k * Math.PI) / (n + 1)), 12);
});

it('gives matrices back: A v = λ v, with unit vectors at right angles', () => {
  const matrices = fc.integer({ min: 1, max: 9 }).chain((n) =>
    fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: n * n, maxLength: n * n }).map((list) => ({
      n,
      list,
    })),
  );
  fc.assert(
    fc.property(matrices, ({ n, list }) => {
      const a = new Float64Array(n * n);
      for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) a[i * n + j] = list[Math.max(i, j) * n + Math.min(i, j)]!;
      const { values, vectors } = symmetricEigen(a, n);
      for (let k = 0; k < n; k++) {
        for (let i = 0; i < n; i++) {
          let product = 0;
          for (let j = 0; j < n; j++) product += a[i * n + j]! * vectors[k * n + j]!;
          expect(product).toBeCloseTo(values[k]! * vectors[k * n + i]!, 9);
        }
        for (let m = 0; m <= k; m++) {
          let dot = 0;
          for (let i = 0; i < n; i++) dot += vectors[k * n + i]! * vectors[m * n + i]!;
          expect(dot).toBeCloseTo(m === k ? 1 : 0, 9);
        }
      }
    }),
  );
});

it('gives unit vectors of entries too small to be squared', () => {
  const { vectors } = symmetricEigen(Float64Array.from([0, 0, 0, 5e-324, 0, 0, 0, 0, 0]), 3);
  for (let k = 0; k < 3; k++) expect(Math.hypot(...vectors.subarray(3 * k, 3 * k + 3))).toBeCloseTo(1, 12);
});
