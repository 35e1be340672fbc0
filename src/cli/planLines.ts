/** The plan as lines of a terminal: stays and ways, why, light, where to start with the shutter, cautions. */
import type { Stay } from '../core/plan/day/index.js';
import type { RunSheet, SheetRow, SheetStay } from '../core/plan/sheet/types.js';
import { clockOf, dayInWords, listed, shutterInWords, spotInWords } from '../core/plan/sheet/words.js';
import { onOneLine } from './words.js';

export interface PlanShown {
  readonly from: 'taken' | 'said' | 'found';
  readonly sheet: RunSheet;
  readonly whys: readonly { readonly photographer: number; readonly stretch: string; readonly words: string }[];
  /** Of a plan that the solver found; `gap` null: how far from the best is not known. */
  readonly found: {
    readonly isProvenBest: boolean;
    readonly gap: number | null;
    readonly stays: readonly Stay[];
  } | null;
  readonly remarks: readonly string[];
}

/** `isTaking`: it becomes the plan with these very lines. */
export function planLines(shown: PlanShown, isTaking = false): readonly string[] {
  const { sheet, remarks } = shown;
  return [
    `${onOneLine(sheet.meeting)}, ${dayInWords(sheet.day)}: ${headOf(shown, isTaking)}`,
    ...[...sheet.warnings, ...remarks].map((one) => `! ${onOneLine(one)}`),
    '',
    ...sheet.rows.map((row) => onOneLine(rowLine(row))),
    ...under('Why', whyLines(shown)),
    ...under('Light', lightLines(sheet)),
    ...under('Mind', [...sheet.cautions.slice(0, 1), ...spotCautions(sheet)]),
  ];
}

function headOf({ from, found, sheet }: PlanShown, isTaking: boolean): string {
  if (sheet.stands.length === 0 && found !== null) return 'the solver found nowhere to stand; below stands why.';
  if (sheet.stands.length === 0) return 'no plan yet.';
  if (from === 'taken') return 'the plan that was taken.';
  if (from === 'said') return 'what you said of where you stand.';
  const gap = found?.gap ?? null;
  const sure = found?.isProvenBest
    ? 'none is better'
    : gap === null
      ? 'how far it is from the best is not known'
      : `at most ${(gap * 100).toFixed(1)} % from the best`;
  return `a plan that the solver found${isTaking ? '' : ', not taken yet'}; ${sure}.`;
}

const under = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ['', title, ...lines.map((line) => `  ${onOneLine(line)}`)];

const TIME_WIDTH = '08:55–09:58'.length;

function rowLine(row: SheetRow): string {
  switch (row.kind) {
    case 'line':
      return `  ${(row.at === null ? '' : clockOf(row.at)).padEnd(TIME_WIDTH)}  ${row.words}`;
    case 'way':
      return `  ${clockOf(row.from).padEnd(TIME_WIDTH)}  ${row.words}`;
    case 'stay':
      return `  ${clockOf(row.from)}–${clockOf(row.to)}  ${stayWords(row)}`;
  }
}

function stayWords(stay: SheetStay): string {
  const parts = [
    listed(stay.sessions.map(({ name }) => name)),
    stay.light,
    stay.lens,
    stay.sure === null ? null : `sure ${shutterInWords(stay.sure)}`,
    stay.slow === null ? null : `slow ${shutterInWords(stay.slow)}`,
    ...stay.notes,
  ];
  return [
    `${spotInWords(stay.spot)}${stay.isSaid ? ' (said)' : ''}`,
    ...parts.filter((part) => part !== null && part !== ''),
  ].join('; ');
}

const whyLines = ({ whys }: PlanShown): readonly string[] => whys.map(({ stretch, words }) => `${stretch}: ${words}`);

const lightLines = ({ sun }: RunSheet): readonly string[] =>
  sun.map(({ spot, words }) => {
    const spans = words.map(({ word, from, to }) => `${word} ${clockOf(from)}–${clockOf(to)}`);
    return `${spotInWords(spot)}: ${spans.join(', ')}`;
  });

const spotCautions = ({ rows }: RunSheet): readonly string[] =>
  rows.flatMap((row) =>
    row.kind === 'stay' ? row.cautions.map((caution) => `${spotInWords(row.spot)}: ${caution}`) : [],
  );
