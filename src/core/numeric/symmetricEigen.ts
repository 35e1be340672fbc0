/**
 * Eigenvalues and eigenvectors of a real symmetric matrix: Householder reduction to tridiagonal form, then QL with
 * implicit shifts.
 *
 * Source: J. Wilkinson, C. Reinsch, Handbook for Automatic Computation II, Linear Algebra (Springer, 1971), procedures
 * tred2 (contribution II/2) and tql2 (II/3), in the arrangement of EISPACK but with rows and columns changed over, so
 * that the inner loops walk through memory one after the other. About 1e-14 of the largest eigenvalue;
 * O(n³).
 */
export interface Eigen {
  /** Largest first. */
  readonly values: Float64Array;
  /** Row k is the unit eigenvector of value k; `n × n`. */
  readonly vectors: Float64Array;
}

/** Smaller than this beside the largest, an entry changes nothing, but its square would no longer be a number. */
const NEGLIGIBLE = 1e-150;

/** @param matrix symmetric, `n × n`, row by row; left as it is. */
export function symmetricEigen(matrix: Float64Array, n: number): Eigen {
  if (matrix.length !== n * n)
    throw new RangeError(`Expected ${n} × ${n} = ${n * n} numbers but got ${matrix.length}.`);
  let largest = 0;
  for (let i = 0; i < matrix.length; i++) largest = Math.max(largest, Math.abs(matrix[i]!));
  const v = new Float64Array(n * n);
  for (let i = 0; i < matrix.length; i++)
    v[i] = Math.abs(matrix[i]!) <= NEGLIGIBLE * largest ? 0 : matrix[i]! / largest;
  const d = new Float64Array(n);
  const e = new Float64Array(n);
  if (n > 0) {
    tred2(v, d, e, n);
    tql2(v, d, e, n);
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((a, b) => d[b]! - d[a]! || a - b);
  const vectors = new Float64Array(n * n);
  order.forEach((column, k) => {
    vectors.set(v.subarray(column * n, (column + 1) * n), k * n);
  });
  return { values: Float64Array.from(order, (i) => d[i]! * largest), vectors };
}

function tred2(v: Float64Array, d: Float64Array, e: Float64Array, n: number): void {
  for (let j = 0; j < n; j++) d[j] = v[j * n + n - 1]!;
  for (let i = n - 1; i > 0; i--) {
    let scale = 0;
    let h = 0;
    for (let k = 0; k < i; k++) scale += Math.abs(d[k]!);
    if (scale === 0) {
      e[i] = d[i - 1]!;
      for (let j = 0; j < i; j++) {
        d[j] = v[j * n + i - 1]!;
        v[j * n + i] = 0;
        v[i * n + j] = 0;
      }
    } else {
      for (let k = 0; k < i; k++) {
        d[k] = d[k]! / scale;
        h += d[k]! * d[k]!;
      }
      const f = d[i - 1]!;
      const g = f > 0 ? -Math.sqrt(h) : Math.sqrt(h);
      e[i] = scale * g;
      h -= f * g;
      d[i - 1] = f - g;
      for (let j = 0; j < i; j++) e[j] = 0;
      for (let j = 0; j < i; j++) {
        const dj = d[j]!;
        v[i * n + j] = dj;
        let sum = e[j]! + v[j * n + j]! * dj;
        const row = j * n;
        for (let k = j + 1; k <= i - 1; k++) {
          const value = v[row + k]!;
          sum += value * d[k]!;
          e[k] = e[k]! + value * dj;
        }
        e[j] = sum;
      }
      let dot = 0;
      for (let j = 0; j < i; j++) {
        e[j] = e[j]! / h;
        dot += e[j]! * d[j]!;
      }
      const half = dot / (h + h);
      for (let j = 0; j < i; j++) e[j] = e[j]! - half * d[j]!;
      for (let j = 0; j < i; j++) {
        const dj = d[j]!;
        const ej = e[j]!;
        const row = j * n;
        for (let k = j; k <= i - 1; k++) v[row + k] = v[row + k]! - (dj * e[k]! + ej * d[k]!);
        d[j] = v[j * n + i - 1]!;
        v[j * n + i] = 0;
      }
    }
    d[i] = h;
  }
  for (let i = 0; i < n - 1; i++) {
    v[i * n + n - 1] = v[i * n + i]!;
    v[i * n + i] = 1;
    const h = d[i + 1]!;
    if (h !== 0) {
      for (let k = 0; k <= i; k++) d[k] = v[(i + 1) * n + k]! / h;
      for (let j = 0; j <= i; j++) {
        const row = j * n;
        const behind = (i + 1) * n;
        let g = 0;
        for (let k = 0; k <= i; k++) g += v[behind + k]! * v[row + k]!;
        for (let k = 0; k <= i; k++) v[row + k] = v[row + k]! - g * d[k]!;
      }
    }
    for (let k = 0; k <= i; k++) v[(i + 1) * n + k] = 0;
  }
  for (let j = 0; j < n; j++) {
    d[j] = v[j * n + n - 1]!;
    v[j * n + n - 1] = 0;
  }
  v[n * n - 1] = 1;
  e[0] = 0;
}

function tql2(v: Float64Array, d: Float64Array, e: Float64Array, n: number): void {
  for (let i = 1; i < n; i++) e[i - 1] = e[i]!;
  e[n - 1] = 0;
  let shift = 0;
  let largest = 0;
  for (let l = 0; l < n; l++) {
    largest = Math.max(largest, Math.abs(d[l]!) + Math.abs(e[l]!));
    let m = l;
    while (m < n - 1 && Math.abs(e[m]!) > Number.EPSILON * largest) m++;
    if (m > l)
      do {
        let g = d[l]!;
        let p = (d[l + 1]! - g) / (2 * e[l]!);
        let r = Math.hypot(p, 1);
        if (p < 0) r = -r;
        d[l] = e[l]! / (p + r);
        d[l + 1] = e[l]! * (p + r);
        const next = d[l + 1]!;
        let h = g - d[l]!;
        for (let i = l + 2; i < n; i++) d[i] = d[i]! - h;
        shift += h;
        p = d[m]!;
        let c = 1;
        let c2 = 1;
        let c3 = 1;
        const after = e[l + 1]!;
        let s = 0;
        let s2 = 0;
        for (let i = m - 1; i >= l; i--) {
          c3 = c2;
          c2 = c;
          s2 = s;
          g = c * e[i]!;
          h = c * p;
          r = Math.hypot(p, e[i]!);
          e[i + 1] = s * r;
          s = e[i]! / r;
          c = p / r;
          p = c * d[i]! - s * g;
          d[i + 1] = h + s * (c * g + s * d[i]!);
          const row = i * n;
          const behind = row + n;
          for (let k = 0; k < n; k++) {
            const left = v[row + k]!;
            const right = v[behind + k]!;
            v[behind + k] = s * left + c * right;
            v[row + k] = c * left - s * right;
          }
        }
        p = (-s * s2 * c3 * after * e[l]!) / next;
        e[l] = s * p;
        d[l] = c * p;
      } while (Math.abs(e[l]!) > Number.EPSILON * largest);
    d[l] = d[l]! + shift;
    e[l] = 0;
  }
}
