/** Reads `labels.tsv` files by the names of their columns, and colour words as people write them. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { areNeighbours, type ColourName } from '../../src/core/measure/index.js';

export type Row = Readonly<Record<string, string>>;

/** Rows of `folder/labels.tsv`, or null where folder or file is absent. Columns may come in any order. */
export function readLabels(folder: string): Row[] | null {
  const path = join(folder, 'labels.tsv');
  if (!existsSync(path)) return null;
  const [header = '', ...lines] = readFileSync(path, 'utf8')
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '');
  const names = header.split('\t').map((name) => name.trim());
  return lines.map((line) => {
    const cells = line.split('\t');
    return Object.fromEntries(names.map((name, index) => [name, (cells[index] ?? '').trim()]));
  });
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
