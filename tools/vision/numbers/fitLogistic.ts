/**
 * Logistic regression by Newton's method with a little ridge: T. Hastie, R. Tibshirani, J. Friedman, "The Elements of
 * Statistical Learning", 2nd ed. 2009, section 4.4.1, equations 4.25 and 4.26.
 */
export interface Sample {
  readonly clues: readonly number[];
  readonly isRight: boolean;
  /** How often it counts; once where nothing is said. */
  readonly weight?: number;
}

const RIDGE = 1;
const STEPS = 25;

export const saidBy = (weights: readonly number[], clues: readonly number[]): number =>
  1 / (1 + Math.exp(-clues.reduce((sum, clue, index) => sum + clue * weights[index]!, 0)));

export function fitLogistic(samples: readonly Sample[], ridge = RIDGE): number[] {
  const size = samples[0]?.clues.length ?? 0;
  let weights: number[] = new Array(size).fill(0);
  for (let step = 0; step < STEPS; step += 1) {
    const gradient = weights.map((value) => -ridge * value);
    const curvature = weights.map((_, row) => weights.map((_, column) => (row === column ? ridge : 0)));
    for (const { clues, isRight, weight = 1 } of samples) {
      const said = saidBy(weights, clues);
      for (let row = 0; row < size; row += 1) {
        gradient[row]! += weight * clues[row]! * ((isRight ? 1 : 0) - said);
        for (let column = 0; column < size; column += 1)
          curvature[row]![column]! += weight * clues[row]! * clues[column]! * said * (1 - said);
      }
    }
    const change = solve(curvature, gradient);
    weights = weights.map((value, index) => value + change[index]!);
  }
  return weights;
}

/** Gaussian elimination with pivoting; the matrix is positive definite by its ridge. */
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const rows = matrix.map((row, index) => [...row, right[index]!]);
  const size = rows.length;
  for (let at = 0; at < size; at += 1) {
    const pivot = rows
      .slice(at)
      .reduce((best, row, index) => (Math.abs(row[at]!) > Math.abs(rows[best]![at]!) ? at + index : best), at);
    [rows[at], rows[pivot]] = [rows[pivot]!, rows[at]!];
    for (let below = 0; below < size; below += 1) {
      if (below === at) continue;
      const factor = rows[below]![at]! / rows[at]![at]!;
      for (let column = at; column <= size; column += 1) rows[below]![column]! -= factor * rows[at]![column]!;
    }
  }
  return rows.map((row, index) => row[size]! / row[index]!);
}
