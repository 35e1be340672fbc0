/** Reads files of labels by the names of their columns, and colour words as people write them. */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { areNeighbours, type ColourName } from '../../src/core/measure/index.js';

export type Row = Readonly<Record<string, string>>;

export interface Labels {
  /** Of pictures that are there, each once. */
  readonly rows: readonly Row[];
  /** Sentences about lines that are not used. */
  readonly troubles: readonly string[];
}

/**
 * `folder/labels.tsv` or another file there, or null where the folder is absent. Columns may come in any order; what
 * cannot be used is said and the rest goes on.
 */
export function readLabels(folder: string, file = 'labels.tsv'): Labels | null {
  if (!existsSync(folder)) return null;
  const path = join(folder, file);
  const [header, ...lines] = linesOf(path);
  if (header === undefined)
    return { rows: [], troubles: [`Expected labels in ${path}, ${EXPECTED}, but ${whyNot(path)}.`] };
  const names = header.text.split('\t').map((name) => name.trim().toLowerCase());
  if (!names.includes('file')) {
    const first = JSON.stringify(header.text.slice(0, 80));
    return { rows: [], troubles: [`Expected ${EXPECTED} in the first line of ${path}, but it is ${first}.`] };
  }
  return usable(
    path,
    lines.map(({ text, number }) => ({ row: rowOf(names, text), number })),
  );
}

const EXPECTED = 'columns parted by tabs, one of them named "file"';

interface Line {
  readonly text: string;
  /** From 1, as editors count. */
  readonly number: number;
}

/** Lines with something on them; none where the file cannot be read. A byte order mark is no part of a name. */
function linesOf(path: string): Line[] {
  if (!isFile(path)) return [];
  return readFileSync(path, 'utf8')
    .replace(/^\uFEFF/, '')
    .split(/\r?\n/)
    .map((text, index) => ({ text, number: index + 1 }))
    .filter(({ text }) => text.trim() !== '');
}

const isFile = (path: string): boolean => statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;

const whyNot = (path: string): string =>
  isFile(path) ? 'it is empty' : existsSync(path) ? 'that is no file' : 'there is no such file';

function rowOf(names: readonly string[], text: string): Row {
  const cells = text.split('\t');
  return Object.fromEntries(names.map((name, index) => [name, (cells[index] ?? '').trim()]));
}

function usable(path: string, lines: readonly { readonly row: Row; readonly number: number }[]): Labels {
  const rows: Row[] = [];
  const troubles: string[] = [];
  const lineOf = new Map<string, number>();
  for (const { row, number } of lines) {
    const trouble = troubleOf(dirname(path), row.file ?? '', lineOf);
    if (trouble === null) {
      lineOf.set(row.file!, number);
      rows.push(row);
    } else troubles.push(`${path}, line ${number}: ${trouble}; the line is not counted.`);
  }
  return { rows, troubles };
}

function troubleOf(folder: string, file: string, lineOf: ReadonlyMap<string, number>): string | null {
  if (file === '') return 'expected a picture in the column "file", but the cell is empty';
  const before = lineOf.get(file);
  if (before !== undefined) return `expected each picture once, but ${file} stands in line ${before} already`;
  return isFile(join(folder, file)) ? null : `expected ${file} beside it, but there is no such file`;
}

/** The count in a cell such as `2` or `many`: null for neither, which is no claim about the picture. */
export function bikesIn(cell: string): number | 'many' | null {
  if (cell.toLowerCase() === 'many') return 'many';
  return /^\d+$/.test(cell) ? Number(cell) : null;
}

/** What people write for the program's names. */
const SYNONYMS: Readonly<Record<string, ColourName>> = {
  gray: 'grey',
  anthracite: 'grey',
  gunmetal: 'grey',
  chrome: 'silver',
  violet: 'purple',
  lilac: 'purple',
  turquoise: 'teal',
  cyan: 'teal',
  maroon: 'red',
  burgundy: 'red',
  gold: 'yellow',
  magenta: 'pink',
  tan: 'brown',
  beige: 'brown',
  bronze: 'brown',
  'dark blue': 'navy',
  'light blue': 'blue',
  'light green': 'lime',
};

const NAMES: ReadonlySet<string> = new Set<ColourName>([
  'black',
  'white',
  'grey',
  'silver',
  'red',
  'orange',
  'yellow',
  'lime',
  'green',
  'teal',
  'blue',
  'navy',
  'purple',
  'pink',
  'brown',
  'fluorescent yellow',
  'fluorescent orange',
  'fluorescent red',
]);

/** The names in a label such as `silver/grey` or `black+blue`; any of them is right. Unknown words are left out. */
export function coloursIn(label: string): ColourName[] {
  return label
    .toLowerCase()
    .split(/[/+,]/)
    .map((word) => word.trim())
    .map((word) => (NAMES.has(word) ? (word as ColourName) : SYNONYMS[word]))
    .filter((name) => name !== undefined);
}

export type ColourVerdict = 'right' | 'neighbour' | 'wrong';

export function judgeColour(main: ColourName | null, label: readonly ColourName[]): ColourVerdict {
  if (main === null) return 'wrong';
  if (label.includes(main)) return 'right';
  return label.some((name) => areNeighbours(name, main)) ? 'neighbour' : 'wrong';
}
