/**
 * Principal directions of a set of vectors by orthogonal iteration on their covariance (G. H. Golub, C. F. Van Loan,
 * "Matrix Computations", 4th ed. 2013, §8.2.4), from a fixed start, so the same vectors give the same directions on every
 * machine. Meant for a few hundred dimensions and the largest few dozen directions; small, close variances converge
 * slowly and come out mixed among themselves, which whitening does not mind.
 */

export interface PrincipalDirections {
  readonly mean: Float64Array;
  /** Unit vectors, largest variance first. */
  readonly directions: readonly Float64Array[];
  /** Variance along each direction. */
  readonly variances: readonly number[];
}

const ROUNDS = 12;

/** @param samples equally long; at most `samples.length − 1` directions carry anything and no more are returned */
export function principalDirections(samples: readonly ArrayLike<number>[], count: number): PrincipalDirections {
  const size = samples[0]?.length ?? 0;
  const mean = meanOf(samples, size);
  const covariance = covarianceOf(samples, mean);
  const wanted = Math.min(count, size, Math.max(0, samples.length - 1));
  let directions = orthonormal(startingDirections(wanted, size));
  for (let round = 0; round < ROUNDS; round += 1) {
    directions = orthonormal(directions.map((direction) => multiply(covariance, direction)));
  }
  const withVariance = directions
    .map((direction) => ({ direction, variance: Math.max(0, dot(direction, multiply(covariance, direction))) }))
    .sort((a, b) => b.variance - a.variance);
  return {
    mean,
    directions: withVariance.map(({ direction }) => direction),
    variances: withVariance.map(({ variance }) => variance),
  };
}

function meanOf(samples: readonly ArrayLike<number>[], size: number): Float64Array {
  const mean = new Float64Array(size);
  for (const sample of samples) {
    for (let index = 0; index < size; index += 1) mean[index]! += sample[index]! / samples.length;
  }
  return mean;
}

/** Rows of the symmetric covariance matrix (division by n). */
function covarianceOf(samples: readonly ArrayLike<number>[], mean: Float64Array): Float64Array[] {
  const size = mean.length;
  const rows = Array.from({ length: size }, () => new Float64Array(size));
  const centred = new Float64Array(size);
  for (const sample of samples) {
    for (let index = 0; index < size; index += 1) centred[index] = sample[index]! - mean[index]!;
    for (let row = 0; row < size; row += 1) {
      const value = centred[row]! / samples.length;
      if (value === 0) continue;
      const target = rows[row]!;
      for (let column = row; column < size; column += 1) target[column]! += value * centred[column]!;
    }
  }
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < row; column += 1) rows[row]![column] = rows[column]![row]!;
  }
  return rows;
}

/** Fixed pseudo-random start (xorshift32; G. Marsaglia, J. Stat. Softw. 8(14), 2003). */
function startingDirections(count: number, size: number): Float64Array[] {
  let state = 2463534242;
  const next = () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return state / 2 ** 31;
  };
  return Array.from({ length: count }, () => Float64Array.from({ length: size }, next));
}

/** Modified Gram–Schmidt; a direction that vanishes is left zero. */
function orthonormal(vectors: readonly Float64Array[]): Float64Array[] {
  const done: Float64Array[] = [];
  for (const vector of vectors) {
    const rest = vector.slice();
    for (const other of done) {
      const share = dot(rest, other);
      for (let index = 0; index < rest.length; index += 1) rest[index]! -= share * other[index]!;
    }
    const length = Math.sqrt(dot(rest, rest));
    const scale = length > 1e-12 ? 1 / length : 0;
    done.push(rest.map((value) => value * scale));
  }
  return done;
}

const multiply = (rows: readonly Float64Array[], vector: Float64Array): Float64Array =>
  Float64Array.from(rows, (row) => dot(row, vector));

export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let index = 0; index < a.length; index += 1) sum += a[index]! * b[index]!;
  return sum;
}
