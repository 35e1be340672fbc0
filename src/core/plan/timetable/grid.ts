/** Groups over columns and times below them, one row a round: turned into one row a session. */
import { findTimes, timeOfCell } from './clock.js';
import { columnsOf } from './columns.js';
import type { Row } from './rows.js';
import { TIMETABLE_COLUMNS } from './words.js';

const isTime = (cell: string): boolean =>
  /\d/.test(cell) &&
  ((findTimes(cell)?.minutes.length ?? 0) > 0 || (/[.,]\d{3,}$/.test(cell) && timeOfCell(cell) !== null));

/** Rows that are no part of such a grid stay as they are. */
export function unfoldGrid(rows: readonly Row[]): readonly Row[] {
  let heads: ReadonlyMap<number, string> | null = null;
  return rows.flatMap((row, i): readonly Row[] => {
    const found = headsOf(row, rows[i + 1]);
    if (found) heads = found;
    if (heads === null) return [row];
    if (found) return [{ ...row, heads: [...found.values()] }];
    const cells = [...heads].filter(([at]) => isTime(row.cells[at] ?? ''));
    if (cells.length < 2) return [row];
    return cells.map(([at, head]) => ({ at: row.at, cells: [head, row.cells[at]!] }));
  });
}

/** Two words or more over times, none of them the name of a column. */
function headsOf(row: Row, below: Row | undefined): ReadonlyMap<number, string> | null {
  if (!below || row.cells.some(isTime) || columnsOf(row, TIMETABLE_COLUMNS) !== null) return null;
  const heads = row.cells.flatMap((cell, at): readonly (readonly [number, string])[] =>
    /\p{L}/u.test(cell) && isTime(below.cells[at] ?? '') ? [[at, cell]] : [],
  );
  return heads.length >= 2 ? new Map(heads) : null;
}
