/** From when to when, where, which sessions, light, lens, shutters, and room to write. */
import { INNER_PX } from '../../../core/plan/sheet/paper.js';
import type { SheetRow, SheetStay } from '../../../core/plan/sheet/types.js';
import { clockOf, shutterInWords, spotInWords } from '../../../core/plan/sheet/words.js';
import { drawChip } from './chip.js';
import type { TintOf } from './dayLine.js';
import { INK_2, INK_3, type Pen, RULE } from './pen.js';

const X = { time: 0, spot: 112, sessions: 206, light: 296, sure: 432, slow: 488, notes: 546 } as const;
const CHIP_PX = 18;
const NOTE = { size: 12.5, ink: INK_2 } as const;
const PLAIN = { size: 13 } as const;
const LIGHT = { size: 13.5 } as const;

export const TABLE_HEAD_PX = 19;

export function drawTableHead(pen: Pen, y: number): void {
  const words = {
    time: 'from, to',
    spot: 'spot',
    sessions: 'sessions',
    light: 'light, lens',
    sure: 'sure',
    slow: 'slow',
  };
  pen.line(
    [
      [0, y],
      [INNER_PX, y],
    ],
    { width: 2 },
  );
  for (const [column, word] of Object.entries(words))
    pen.text(word, X[column as keyof typeof words], y + 13.5, { size: 12, ink: INK_3 });
  pen.text('notes', X.notes + 10, y + 13.5, { size: 12, ink: INK_3 });
  closeRow(pen, y, TABLE_HEAD_PX);
}

/** A row that knows its height before it is drawn. */
export interface DrawnRow {
  readonly height: number;
  draw(y: number): void;
}

export function rowOf(pen: Pen, row: SheetRow, tints: TintOf): DrawnRow {
  if (row.kind === 'stay') return stayRow(pen, row, tints);
  const isWay = row.kind === 'way';
  const look = isWay ? NOTE : PLAIN;
  const lines = pen.wrap(row.words, X.notes - X.spot - 8, look);
  const height = lines.length * 16 + (isWay ? 6 : 10);
  return {
    height,
    draw(y) {
      if (row.kind === 'line' && row.at !== null)
        pen.text(clockOf(row.at), X.time, y + 17.5, { face: 'strong', size: 13 });
      if (isWay) pen.text(clockOf(row.from), X.time, y + 15, NOTE);
      for (const [i, line] of lines.entries()) pen.text(line, X.spot, y + (isWay ? 15 : 17.5) + i * 16, look);
      closeRow(pen, y, height);
    },
  };
}

function stayRow(pen: Pen, row: SheetStay, tints: TintOf): DrawnRow {
  const light = pen.wrap([row.light, row.lens].filter((word) => word !== null).join(', '), X.sure - X.light - 8, LIGHT);
  const notes = row.notes.length === 0 ? [] : pen.wrap(row.notes.join('; '), INNER_PX - X.notes - 12, NOTE);
  const cautions = row.cautions.flatMap((caution) => pen.wrap(`! ${caution}`, X.notes - X.spot - 8, NOTE));
  const lines = Math.max(light.length, notes.length, Math.ceil(row.sessions.length / chipsOf(row).aLine));
  const body = Math.max(37, 12 + lines * 17);
  const height = body + cautions.length * 16 + (cautions.length > 0 ? 3 : 0);
  return {
    height,
    draw(y) {
      const from = clockOf(row.from);
      const figure = { face: 'figures', size: 19 } as const;
      pen.text(from, X.time, y + 25, figure);
      pen.text(`–${clockOf(row.to)}`, X.time + pen.widthOf(from, figure), y + 25, { size: 17, ink: INK_2 });
      drawSpot(pen, row, y + 24.5);
      drawSessions(pen, row, tints, y + 10);
      for (const [i, line] of light.entries()) pen.text(line, X.light, y + 23.5 + i * 17, LIGHT);
      if (row.sure !== null) pen.text(shutterInWords(row.sure), X.sure, y + 24.5, { face: 'strong', size: 16 });
      if (row.slow !== null) pen.text(shutterInWords(row.slow), X.slow, y + 24.5, { face: 'strong', size: 16 });
      for (const [i, line] of notes.entries()) pen.text(line, X.notes + 10, y + 23 + i * 16, NOTE);
      for (const [i, line] of cautions.entries()) pen.text(line, X.spot, y + body + 7 + i * 16, NOTE);
      closeRow(pen, y, height);
    },
  };
}

/** What the person said is underlined. */
function drawSpot(pen: Pen, { spot, isSaid }: SheetStay, baseline: number): void {
  const look = { face: 'strong', size: 16, within: X.sessions - X.spot - 8 } as const;
  const words = spotInWords(spot);
  pen.text(words, X.spot, baseline, look);
  if (!isSaid) return;
  const width = Math.min(look.within, pen.widthOf(words, look));
  pen.line(
    [
      [X.spot, baseline + 3.5],
      [X.spot + width, baseline + 3.5],
    ],
    { width: 1.5 },
  );
}

/** Three in a row, or four that are narrower. */
const chipsOf = ({ sessions }: SheetStay) =>
  sessions.length === 4 ? { width: 20, size: 11.5, aLine: 4 } : { width: 26, size: 13, aLine: 3 };

function drawSessions(pen: Pen, row: SheetStay, tints: TintOf, top: number): void {
  const { width, size, aLine } = chipsOf(row);
  const { sessions } = row;
  for (const [i, { name, group, isWhole }] of sessions.entries()) {
    const x = X.sessions + (i % aLine) * (width + 2);
    const y = top + Math.floor(i / aLine) * (CHIP_PX + 2);
    drawChip(pen, name, tints(group), x, y, { width, height: CHIP_PX, size, isPart: !isWhole });
  }
}

function closeRow(pen: Pen, y: number, height: number): void {
  pen.line(
    [
      [0, y + height],
      [INNER_PX, y + height],
    ],
    { ink: RULE },
  );
  pen.line(
    [
      [X.notes, y],
      [X.notes, y + height],
    ],
    { ink: RULE },
  );
}
