/** Accuracy on folders of labelled pictures. */
import { readdirSync, statSync } from 'node:fs';
import { extname, join } from 'node:path';
import { mainColoursOf } from '../../src/core/arrange/riders/livery.js';
import type { ColourName, FrameMeasured } from '../../src/core/measure/types.js';
import type { Vision } from '../../src/host/vision/index.js';
import { confusionRows, type Said } from './confusion.js';
import { type ColourVerdict, coloursIn, judgeColour, type Row, readLabels } from './labels.js';
import { measurePicture } from './measurePicture.js';
import type { Part } from './part.js';

export const FOUND_AT = 0.4;

export const countBikes = ({ subjects }: FrameMeasured): number =>
  subjects.filter(({ what, score }) => what === 'motorcycle' && score >= FOUND_AT).length;
export const hasBike = (frame: FrameMeasured): boolean => countBikes(frame) > 0;

/** The one colour or two that are said of the main bike. */
function coloursSaid({ subjects }: FrameMeasured): readonly ColourName[] {
  const main = subjects.find(({ isMain, what }) => isMain && what === 'motorcycle');
  return mainColoursOf(main?.bikeColours ?? []);
}

export interface Measured {
  readonly row: Row;
  readonly frame: FrameMeasured;
}

interface Looked {
  readonly measured: readonly Measured[];
  readonly unreadable: readonly string[];
}

export async function measureAll(vision: Vision, folder: string, rows: readonly Row[]): Promise<Looked> {
  const measured: Measured[] = [];
  const unreadable: string[] = [];
  for (const row of rows) {
    const frame = await measurePicture(vision, join(folder, row.file ?? ''));
    if (frame.kind === 'measured') measured.push({ row, frame });
    else unreadable.push(`${row.file}: ${frame.reason}`);
  }
  return { measured, unreadable };
}

interface ColourCount {
  readonly counted: number;
  readonly right: number;
  readonly neighbour: number;
  /** Right in the first or the second colour that is said. */
  readonly amongTwo: number;
  readonly wrong: readonly string[];
  readonly pairs: readonly Said[];
}

export function countColours(measured: readonly Measured[]): ColourCount {
  const verdicts = measured
    .map(({ row, frame }) => ({ row, said: coloursSaid(frame), label: coloursIn(row.main_colour ?? '') }))
    .filter(({ label }) => label.length > 0)
    .map(({ row, said, label }) => {
      const main = said[0] ?? null;
      return { row, main, said, label, verdict: judgeColour(main, label) };
    });
  const count = (wanted: ColourVerdict) => verdicts.filter(({ verdict }) => verdict === wanted).length;
  return {
    counted: verdicts.length,
    right: count('right'),
    neighbour: count('neighbour'),
    amongTwo: verdicts.filter(({ said, label }) => said.some((name) => label.includes(name))).length,
    wrong: verdicts
      .filter(({ verdict }) => verdict !== 'right')
      .map(({ row, main, verdict }) => `${row.file} ${row.main_colour} → ${main ?? 'no bike'} (${verdict})`),
    // Of two right ones the one that was said.
    pairs: verdicts.map(({ main, label }) => ({
      meant: main !== null && label.includes(main) ? main : label[0]!,
      said: main,
    })),
  };
}

export const colourRows = (
  title: string,
  { counted, right, neighbour, amongTwo, wrong, pairs }: ColourCount,
): string[] => [
  `${title}: right ${right} of ${counted}, right or neighbour ${right + neighbour} of ${counted}; right among the one or two that are said ${amongTwo} of ${counted}`,
  ...wrong.map((line) => `  ${line}`),
  ...confusionRows(pairs).map((line) => `  ${line}`),
];

export const unreadableRows = (lines: readonly string[]): string[] =>
  lines.map((line) => `  not counted, unreadable: ${line}`);

export const troubleRows = (lines: readonly string[]): string[] => lines.map((line) => `  ${line}`);

/** Cells that say something nobody here understands; they are not counted, and that is said. */
export const strangeCells = (
  rows: readonly Row[],
  column: string,
  isKnown: (cell: string) => boolean,
  expected: string,
) =>
  rows
    .filter((row) => (row[column] ?? '') !== '' && !isKnown(row[column]!))
    .map((row) => `${row.file}: expected ${expected} in "${column}", but it is "${row[column]}"; that is not counted.`);

export const strangeColours = (rows: readonly Row[]): string[] =>
  strangeCells(
    rows,
    'main_colour',
    (cell) => coloursIn(cell).length > 0,
    'a colour of the program (or two parted by /)',
  );

export const bikeColoursAccuracy: Part = async (vision, dataDir) => {
  const folder = join(dataDir, 'bike-colours');
  const labels = readLabels(folder);
  if (!labels) return null;
  const { measured, unreadable } = await measureAll(vision, folder, labels.rows);
  const notCounted = [
    ...unreadableRows(unreadable),
    ...troubleRows([...labels.troubles, ...strangeColours(labels.rows)]),
  ];
  const count = countColours(measured);
  if (count.counted === 0)
    return {
      rows: ['standing bikes: no picture labelled with a colour could be measured', ...notCounted],
      figures: {},
    };
  const unit = `of ${count.counted} photos`;
  return {
    rows: [...colourRows('standing bikes, main colour', count), ...notCounted],
    figures: {
      'photos.colourRight': { value: count.right, unit, better: 'higher' },
      'photos.colourRightOrNeighbour': {
        value: count.right + count.neighbour,
        unit,
        better: 'higher',
        note: 'neighbours are fixed in core/measure/nameColour.ts, at most two a colour',
      },
    },
  };
};

export const isFolder = (path: string): boolean => statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;

const PICTURES: ReadonlySet<string> = new Set(['.jpg', '.jpeg', '.png', '.webp']);

/** Names of the pictures in a folder, in order. */
export const picturesIn = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !entry.isDirectory() && PICTURES.has(extname(entry.name).toLowerCase()))
    .map((entry) => entry.name)
    .sort();

export const dividersAccuracy: Part = async (vision, dataDir) => {
  const folder = join(dataDir, 'dividers');
  if (!isFolder(folder)) return null;
  const kinds = readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory());
  const files = [
    ...picturesIn(folder),
    ...kinds.flatMap(({ name }) => picturesIn(join(folder, name)).map((file) => join(name, file))),
  ];
  const { measured, unreadable } = await measureAll(
    vision,
    folder,
    files.map((file) => ({ file })),
  );
  if (measured.length === 0)
    return { rows: ['dividers: no picture could be measured', ...unreadableRows(unreadable)], figures: {} };
  const falseBikes = measured.filter(({ frame }) => hasBike(frame));
  const told = measured.filter(({ frame }) => frame.dividerScore >= 0.5);
  return {
    rows: [
      `dividers: a bike falsely found in ${falseBikes.length} of ${measured.length}; told as dividers (score ≥ 0.5) ${told.length}`,
      ...falseBikes.map(({ row }) => `  ${row.file}`),
      ...unreadableRows(unreadable),
    ],
    figures: {
      'dividers.falseBike': { value: falseBikes.length, unit: `of ${measured.length} photos`, better: 'lower' },
    },
  };
};
