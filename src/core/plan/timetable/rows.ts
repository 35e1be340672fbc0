/** Pasted text as rows of cells. One separator is found for the whole; cells in quotes may hold it (RFC 4180). */

export interface Row {
  /** Line of the text or row of the sheet, from 1. */
  readonly at: number;
  readonly cells: readonly string[];
  /** Stands over a grid of times: its groups. */
  readonly heads?: readonly string[];
}

const SEPARATORS = ['\t', ';', ','] as const;

export function rowsOfText(text: string): readonly Row[] {
  const lines = text.replace(/^\uFEFF/, '').split(/\r\n|\r|\n/);
  const separator = separatorOf(lines.filter((line) => line.trim() !== ''));
  return rowsOf(lines.map((line) => cellsOf(line, separator)));
}

/** Rows of a sheet as read elsewhere; empty ones are passed over, but counted. */
export const rowsOf = (cells: readonly (readonly string[])[]): readonly Row[] =>
  cells
    .map((row, i) => ({ at: i + 1, cells: row.map((cell) => cell.trim()) }))
    .filter((row) => row.cells.some((cell) => cell !== ''));

/** A tab anywhere; else what most lines hold; else two spaces, as in columns set with spaces. */
function separatorOf(lines: readonly string[]): string | RegExp {
  if (lines.some((line) => line.includes('\t'))) return '\t';
  const inMost = SEPARATORS.find(
    (separator) => lines.filter((line) => line.includes(separator)).length > lines.length * 0.6,
  );
  return inMost ?? /\s{2,}/;
}

function cellsOf(line: string, separator: string | RegExp): readonly string[] {
  if (typeof separator !== 'string') return line.trim().split(separator);
  const cells: string[] = [];
  let cell = '';
  let isQuoted = false;
  for (let i = 0; i < line.length; i++) {
    const sign = line[i]!;
    if (isQuoted && sign === '"' && line[i + 1] === '"') cell += line[++i];
    else if (sign === '"' && (isQuoted || cell.trim() === '')) isQuoted = !isQuoted;
    else if (sign === separator && !isQuoted) {
      cells.push(cell);
      cell = '';
    } else cell += sign;
  }
  return [...cells, cell];
}
