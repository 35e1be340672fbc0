/** Which colour was said where which was meant, as a table to read. */
import { areNeighbours, type ColourName } from '../../src/core/measure/index.js';

/** In the order in which neighbours stand beside each other. */
const NAMES: readonly ColourName[] = [
  ...(['white', 'silver', 'grey', 'black', 'navy', 'blue', 'teal', 'green'] as const),
  ...(['lime', 'yellow', 'orange', 'red', 'pink', 'purple', 'brown'] as const),
  ...(['fluorescent yellow', 'fluorescent orange', 'fluorescent red'] as const),
];

export interface Said {
  /** The first where several are right. */
  readonly meant: ColourName;
  readonly said: ColourName | null;
}

/** A row for each colour that was meant, a column for each that was said; neighbours in brackets, right ones marked. */
export function confusionRows(pairs: readonly Said[]): string[] {
  const meant = NAMES.filter((name) => pairs.some((pair) => pair.meant === name));
  const said = [...NAMES.filter((name) => pairs.some((pair) => pair.said === name)), null];
  const wide = (text: string) => text.replace('fluorescent', 'fl.').padStart(11);
  const cell = (row: ColourName, column: ColourName | null): string => {
    const count = pairs.filter((pair) => pair.meant === row && pair.said === column).length;
    if (count === 0) return wide('·');
    if (row === column) return wide(`=${count}`);
    return wide(column !== null && areNeighbours(row, column) ? `(${count})` : String(count));
  };
  return [
    `${'meant \\ said'.padEnd(19)}${said.map((name) => wide(name ?? 'no bike')).join('')}`,
    ...meant.map((row) => `${row.padEnd(19)}${said.map((column) => cell(row, column)).join('')}`),
  ];
}
