/** Pieces of a printed page that know their height before they are drawn. */
import { EDGE, INK, INK_2, type Pen, RULE, WHITE } from '../plan/paper/pen.js';

/** Rows under a title; where a column ends between them they go on in the next under the same title. */
export interface Block {
  readonly title: string;
  /** From the title's top to the first row. */
  readonly headPx: number;
  readonly rows: readonly BlockRow[];
  /** What stands under the title, of every piece. */
  drawHead(x: number, top: number): void;
}

interface BlockRow {
  readonly height: number;
  draw(x: number, y: number): void;
}

export interface RangeRow {
  readonly label: string;
  /** 0–1 of the scale. */
  readonly at: number;
  readonly from: number;
  readonly to: number;
  readonly isFew: boolean;
  readonly count: string;
  readonly note?: string;
}

const HEAD_PX = 20;
const SCALE_PX = 11;
const ROW_PX = 15;
const NOTE_PX = 12;
const LINE_PX = 14;
const FOOT_PX = 9;
const LABEL_PX = 84;
const COUNT_PX = 96;
const SCALE: readonly string[] = ['0', '50', '100 %'];
const TEXT = { size: 11.5 } as const;
const NOTE = { size: 10.5, ink: INK_2 } as const;

/** Null: of nothing nothing is said. */
export function rangeBlock(
  pen: Pen,
  width: number,
  title: string,
  rows: readonly RangeRow[],
  scale = SCALE,
): Block | null {
  if (rows.length === 0) return null;
  const [left, right] = [LABEL_PX, width - COUNT_PX];
  return {
    title,
    headPx: HEAD_PX + SCALE_PX,
    rows: rows.map((row) => rangeRow(pen, row, width)),
    drawHead(x, top) {
      const align = ['left', 'middle', 'right'] as const;
      for (const [i, words] of scale.entries())
        pen.text(words, x + left + (i * (right - left)) / 2, top + HEAD_PX + 8, { ...NOTE, align: align[i]! });
    },
  };
}

function rangeRow(pen: Pen, row: RangeRow, width: number): BlockRow {
  const notes = row.note === undefined ? [] : pen.wrap(row.note, width - LABEL_PX, NOTE);
  const height = ROW_PX + notes.length * NOTE_PX;
  return {
    height,
    draw(x, y) {
      drawRange(pen, row, x, y, [x + LABEL_PX, x + width - COUNT_PX]);
      pen.text(row.count, x + width, y + 11, { ...TEXT, align: 'right', within: COUNT_PX - 8 });
      for (const [line, words] of notes.entries()) pen.text(words, x + LABEL_PX, y + ROW_PX + 8 + line * NOTE_PX, NOTE);
      rule(pen, x, y + height, width, RULE);
    },
  };
}

function drawRange(
  pen: Pen,
  { label, at, from, to, isFew }: RangeRow,
  x: number,
  y: number,
  edges: [number, number],
): void {
  const [left, right] = edges;
  const along = (share: number): number => left + Math.min(1, Math.max(0, share)) * (right - left);
  const middle = y + ROW_PX / 2;
  pen.text(label, x, y + 11, { ...TEXT, face: 'strong', within: LABEL_PX - 6 });
  for (const share of [0, 0.5, 1])
    pen.line(
      [
        [along(share), y + 2],
        [along(share), y + ROW_PX - 2],
      ],
      { ink: EDGE, width: 0.6 },
    );
  pen.line(
    [
      [along(from), middle],
      [along(to), middle],
    ],
    { width: 1.2 },
  );
  pen.disc(along(at), middle, 3, { fill: isFew ? WHITE : INK, ink: INK, width: 1.2 });
}

/** Null where there is no sentence. */
export function wordsBlock(pen: Pen, width: number, title: string, sentences: readonly string[]): Block | null {
  if (sentences.length === 0) return null;
  return {
    title,
    headPx: HEAD_PX,
    rows: sentences.map((sentence) => wordsRow(pen, pen.wrap(sentence, width, TEXT), width)),
    drawHead() {},
  };
}

function wordsRow(pen: Pen, lines: readonly string[], width: number): BlockRow {
  const height = lines.length * LINE_PX + 3;
  return {
    height,
    draw(x, y) {
      for (const [i, line] of lines.entries()) pen.text(line, x, y + i * LINE_PX + 11, TEXT);
      rule(pen, x, y + height - 1, width, RULE);
    },
  };
}

/** Draws these rows of it under its title; answers where they end. */
export function drawPiece(
  pen: Pen,
  block: Block,
  rows: readonly BlockRow[],
  { x, top, width }: { readonly x: number; readonly top: number; readonly width: number },
): number {
  const title = rows[0] === block.rows[0] ? block.title : `${block.title}, continued`;
  pen.text(title, x, top + 14, { face: 'strong', size: 12.5, within: width });
  rule(pen, x, top, width, INK);
  block.drawHead(x, top);
  let y = top + block.headPx;
  for (const row of rows) {
    row.draw(x, y);
    y += row.height;
  }
  return y + FOOT_PX;
}

/** How many of these rows a column of that height holds under the title. */
export function rowsWithin(block: Block, rows: readonly BlockRow[], room: number): number {
  let height = block.headPx + FOOT_PX;
  const over = rows.findIndex((row) => {
    height += row.height;
    return height > room;
  });
  return over < 0 ? rows.length : over;
}

const rule = (pen: Pen, x: number, y: number, width: number, ink: string): void =>
  pen.line(
    [
      [x, y],
      [x + width, y],
    ],
    { ink, width: ink === INK ? 1.5 : 0.6 },
  );
