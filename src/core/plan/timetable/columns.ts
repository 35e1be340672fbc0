/** Which column is what, by its name. */
import type { Row } from './rows.js';
import { plain } from './words.js';

export type Columns<Column extends string> = ReadonlyMap<Column, number>;

/**
 * Null where the row is no header: two names of columns at least, and most of its cells such names. A letter (`a`, `n`) may as
 * well be a group: it is a name beside two names that are words, or where it is the only letter.
 */
export function columnsOf<Column extends string>(
  { cells }: Row,
  names: Readonly<Record<Column, ReadonlySet<string>>>,
): Columns<Column> | null {
  const columns = new Map<Column, number>();
  const filled = cells.filter((cell) => cell !== '').length;
  const all = cells.map(plain);
  const isNamed = (words: string) => (Object.keys(names) as Column[]).some((name) => names[name].has(words));
  const areLettersNames =
    all.filter((words) => words.length === 1).length === 1 ||
    all.filter((words) => words.length > 1 && isNamed(words)).length >= 2;
  all.forEach((words, at) => {
    if (words.length === 1 && !areLettersNames) return;
    const column = (Object.keys(names) as Column[]).find((name) => !columns.has(name) && names[name].has(words));
    if (column !== undefined && words !== '') columns.set(column, at);
  });
  return columns.size >= 2 && columns.size >= filled / 2 ? columns : null;
}

export const cellAt = <Column extends string>(row: Row, columns: Columns<Column>, column: Column): string =>
  row.cells[columns.get(column) ?? -1]?.trim() ?? '';

/** Which columns were found, and which are passed over: what stands in those would else be lost without a word. */
export function columnsInWords<Column extends string>({ cells }: Row, columns: Columns<Column>): string {
  const taken = new Set(columns.values());
  const others = cells.flatMap((cell, at) => (cell === '' || taken.has(at) ? [] : [`“${cell}”`]));
  const named = `Names the columns: ${[...columns.keys()].join(', ')}.`;
  return others.length === 0 ? named : `${named} Not read: ${others.join(', ')}.`;
}
