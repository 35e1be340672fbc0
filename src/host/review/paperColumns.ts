/** Blocks in two columns, over as many pages as they take. */
import { INNER_PX, PAPER } from '../../core/plan/sheet/paper.js';
import type { Pen } from '../plan/paper/pen.js';
import { type Block, drawPiece, rowsWithin } from './paperBlocks.js';

const GAP = 20;
export const COLUMN_PX = (INNER_PX - GAP) / 2;
const BOTTOM_PX = PAPER.heightPx - PAPER.topPx - PAPER.bottomPx;
/** Of a block that is parted, so many rows stand together on either side at the least. */
const LEAST_ROWS = 3;

/**
 * Each goes under the shorter column; one without room there is parted between its rows, or goes to a new page. Whatever its length, all
 * of it is printed.
 *
 * @param newPage begins one and answers where its columns begin
 */
export function drawInColumns(pen: Pen, blocks: readonly Block[], top: number, newPage: () => number): void {
  let start = top;
  let ends = [top, top];
  for (const block of blocks) {
    let rows = block.rows;
    while (rows.length > 0) {
      const column = ends[0]! <= ends[1]! ? 0 : 1;
      const end = ends[column]!;
      const count = rowsHere(block, rows, BOTTOM_PX - end, end === start);
      if (count === 0) {
        start = newPage();
        ends = [start, start];
        continue;
      }
      const place = { x: column * (COLUMN_PX + GAP), top: end, width: COLUMN_PX };
      ends[column] = drawPiece(pen, block, rows.slice(0, count), place);
      rows = rows.slice(count);
    }
  }
}

/** None: a new page is wanted. A column that is empty takes what it can: the next one holds no more. */
function rowsHere(block: Block, rows: Block['rows'], room: number, isEmpty: boolean): number {
  const fits = rowsWithin(block, rows, room);
  if (isEmpty) return Math.max(1, fits);
  if (fits === rows.length) return fits;
  const parted = Math.min(fits, rows.length - LEAST_ROWS);
  return parted < LEAST_ROWS ? 0 : parted;
}
