/**
 * Cheapest one-to-one assignment, rows to columns.
 *
 * Source: R. Jonker, A. Volgenant, "A shortest augmenting path algorithm for dense and sparse linear assignment
 * problems", Computing 38 (1987) 325–340, the augmentation step only (no column reduction); O(rows² · columns), exact
 * up to rounding. More columns than rows, or fewer, are both allowed; the smaller side is assigned completely.
 */

/**
 * @param cost row by row, `rows × columns`, finite.
 * @returns for every row its column, −1 where there are fewer columns than rows and this row got none.
 */
export function assign(cost: Float64Array, rows: number, columns: number): Int32Array {
  if (cost.length !== rows * columns)
    throw new RangeError(`Expected ${rows} × ${columns} = ${rows * columns} costs but got ${cost.length}.`);
  if (rows <= columns) return assignRows((i, j) => cost[i * columns + j]!, rows, columns);
  const byColumn = assignRows((j, i) => cost[i * columns + j]!, columns, rows);
  const out = new Int32Array(rows).fill(-1);
  byColumn.forEach((row, column) => {
    out[row] = column;
  });
  return out;
}

/** Rows ≤ columns. Indices are from 1; column 0 stands for "the row now being placed". */
function assignRows(cost: (i: number, j: number) => number, rows: number, columns: number): Int32Array {
  const u = new Float64Array(rows + 1);
  const v = new Float64Array(columns + 1);
  const rowOf = new Int32Array(columns + 1);
  const before = new Int32Array(columns + 1);
  for (let i = 1; i <= rows; i++) {
    const slack = new Float64Array(columns + 1).fill(Number.POSITIVE_INFINITY);
    const isDone = new Uint8Array(columns + 1);
    rowOf[0] = i;
    let at = 0;
    do {
      isDone[at] = 1;
      const row = rowOf[at]!;
      let step = Number.POSITIVE_INFINITY;
      let next = 0;
      for (let j = 1; j <= columns; j++) {
        if (isDone[j]) continue;
        const reduced = cost(row - 1, j - 1) - u[row]! - v[j]!;
        if (reduced < slack[j]!) {
          slack[j] = reduced;
          before[j] = at;
        }
        if (slack[j]! < step) {
          step = slack[j]!;
          next = j;
        }
      }
      for (let j = 0; j <= columns; j++) {
        if (isDone[j]) {
          u[rowOf[j]!] = u[rowOf[j]!]! + step;
          v[j] = v[j]! - step;
        } else slack[j] = slack[j]! - step;
      }
      at = next;
    } while (rowOf[at] !== 0);
    for (; at !== 0; at = before[at]!) rowOf[at] = rowOf[before[at]!]!;
  }
  const out = new Int32Array(rows);
  for (let j = 1; j <= columns; j++) if (rowOf[j] !== 0) out[rowOf[j]! - 1] = j - 1;
  return out;
}
