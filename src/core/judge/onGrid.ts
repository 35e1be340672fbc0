/** A bike on a grid over its crop, and what is asked of such a grid by more than one judgement. */

export interface OnGrid {
  readonly columns: number;
  readonly rows: number;
  readonly isBike: (cell: number) => boolean;
  readonly isHelmet: (cell: number) => boolean;
}

export interface Bounds {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

type Size = Pick<OnGrid, 'columns' | 'rows'>;

/** In cells, the last ones included; null: none is wanted. */
export function boundsOf({ columns, rows }: Size, isWanted: (cell: number) => boolean): Bounds | null {
  let [left, right, top, bottom] = [columns, -1, rows, -1];
  for (let y = 0, cell = 0; y < rows; y += 1)
    for (let x = 0; x < columns; x += 1, cell += 1) {
      if (!isWanted(cell)) continue;
      [left, right, top, bottom] = [Math.min(left, x), Math.max(right, x), Math.min(top, y), Math.max(bottom, y)];
    }
  return right < 0 ? null : { left, right, top, bottom };
}

export interface Piece {
  readonly cells: readonly number[];
  readonly has: (cell: number) => boolean;
  /** Of all wanted cells, the share that hangs together in it. */
  readonly share: number;
}

/** The largest piece of wanted cells that hang together by their sides; null: none is wanted. */
export function largestPiece(size: Size, isWanted: (cell: number) => boolean): Piece | null {
  const count = size.columns * size.rows;
  const pieceOf = new Int32Array(count);
  let [number, all] = [0, 0];
  let best: readonly number[] = [];
  for (let start = 0; start < count; start += 1) {
    if (pieceOf[start] !== 0 || !isWanted(start)) continue;
    number += 1;
    const cells = pieceFrom(size, start, number, pieceOf, isWanted);
    all += cells.length;
    if (cells.length > best.length) best = cells;
  }
  if (best.length === 0) return null;
  const own = pieceOf[best[0]!]!;
  return { cells: best, has: (cell) => pieceOf[cell] === own, share: best.length / all };
}

function pieceFrom(
  { columns, rows }: Size,
  start: number,
  number: number,
  pieceOf: Int32Array,
  isWanted: (cell: number) => boolean,
): number[] {
  const cells = [start];
  pieceOf[start] = number;
  for (let next = 0; next < cells.length; next += 1) {
    const cell = cells[next]!;
    const x = cell % columns;
    const beside = [
      ...(x > 0 ? [cell - 1] : []),
      ...(x < columns - 1 ? [cell + 1] : []),
      ...(cell >= columns ? [cell - columns] : []),
      ...(cell < columns * (rows - 1) ? [cell + columns] : []),
    ];
    for (const other of beside) {
      if (pieceOf[other] !== 0 || !isWanted(other)) continue;
      pieceOf[other] = number;
      cells.push(other);
    }
  }
  return cells;
}

/** Of the bike's height, from its lowest point up: there a bike seen end on shows one wheel, from elsewhere two. */
const BASE = 0.15;

/**
 * From ahead or behind, leaning or not, a bike stands on one narrow foot.
 *
 * @param widest the base at most, in shares of the bike's height: half of it where it is turned by some twenty degrees
 */
export function isSeenEndOn(size: Size, bike: Piece, cellAspect: number, widest: number): boolean {
  const whole = boundsOf(size, bike.has);
  if (whole === null) return false;
  const height = whole.bottom + 1 - whole.top;
  const from = whole.bottom - BASE * height;
  const base = boundsOf(size, (cell) => bike.has(cell) && Math.floor(cell / size.columns) > from);
  return base !== null && (base.right + 1 - base.left) * cellAspect < widest * height;
}
