/** Figures that a command measured in this very run: printed for people, and written for machines with `--json FILE`. */
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';

export interface Figure {
  readonly value: number;
  readonly unit: string;
  readonly better: 'higher' | 'lower';
  readonly note?: string;
}

export type Figures = Readonly<Record<string, Figure>>;

export function printFigures(figures: Figures): void {
  const width = Math.max(0, ...Object.keys(figures).map((key) => key.length));
  for (const [key, figure] of Object.entries(figures)) {
    const value = Number.isInteger(figure.value) ? String(figure.value) : figure.value.toPrecision(4);
    const note = figure.note === undefined ? '' : `  (${figure.note})`;
    console.log(`${key.padEnd(width)}  ${value} ${figure.unit}, ${figure.better} is better${note}`);
  }
}

/** What the figures were measured on: they mean little without it. */
export function printMachine(): void {
  const cores = cpus();
  console.log(
    `${cores.length} × ${cores[0]?.model ?? 'unknown processor'}, Node ${process.version}, ${process.platform}`,
  );
}

export function writeFigures(file: string, figures: Figures): void {
  const bad = Object.entries(figures).filter(([, figure]) => !Number.isFinite(figure.value));
  if (bad.length > 0)
    throw new Error(
      `Expected a finite number for ${bad.map(([key]) => key).join(', ')}; a figure that was not measured is left out, never written.`,
    );
  writeFileSync(file, `${JSON.stringify(figures, null, 2)}\n`);
}

/** Reads `--json FILE`, `--data DIR` and plain words from a command line. */
export function readOptions(argv: readonly string[]): {
  json: string | null;
  data: string | null;
  only: readonly string[];
} {
  const after = (flag: string): string | null => {
    const at = argv.indexOf(flag);
    if (at === -1) return null;
    const value = argv[at + 1];
    if (value === undefined || value.startsWith('--'))
      throw new Error(`Expected a path after ${flag}, but nothing came.`);
    return value;
  };
  const json = after('--json');
  const data = after('--data');
  return { json, data, only: argv.filter((word, i) => !word.startsWith('--') && !argv[i - 1]?.startsWith('--')) };
}
