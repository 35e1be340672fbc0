/** Pieces of a printed page that know their height before they are drawn. */
import { EDGE, INK, INK_2, type Pen, RULE, WHITE } from '../plan/paper/pen.js';

export interface Block {
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
  const notes = rows.map(({ note }) => (note === undefined ? [] : pen.wrap(note, width - LABEL_PX, NOTE)));
  const heightOf = (i: number): number => ROW_PX + notes[i]!.length * NOTE_PX;
  const [left, right] = [LABEL_PX, width - COUNT_PX];
  return {
    height: HEAD_PX + SCALE_PX + rows.reduce((sum, _, i) => sum + heightOf(i), 0) + FOOT_PX,
    draw(x, top) {
      drawTitle(pen, title, x, top, width);
      const align = ['left', 'middle', 'right'] as const;
      for (const [i, words] of scale.entries())
        pen.text(words, x + left + (i * (right - left)) / 2, top + HEAD_PX + 8, { ...NOTE, align: align[i]! });
      rule(pen, x, top, width, INK);
      let y = top + HEAD_PX + SCALE_PX;
      for (const [i, row] of rows.entries()) {
        drawRange(pen, row, x, y, [x + left, x + right]);
        pen.text(row.count, x + width, y + 11, { ...TEXT, align: 'right', within: COUNT_PX - 8 });
        for (const [line, words] of notes[i]!.entries())
          pen.text(words, x + left, y + ROW_PX + 8 + line * NOTE_PX, NOTE);
        y += heightOf(i);
        rule(pen, x, y, width, RULE);
      }
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
  const wrapped = sentences.map((sentence) => pen.wrap(sentence, width, TEXT));
  return {
    height: HEAD_PX + wrapped.reduce((sum, lines) => sum + lines.length * 14 + 3, 0) + FOOT_PX,
    draw(x, top) {
      drawTitle(pen, title, x, top, width);
      rule(pen, x, top, width, INK);
      let y = top + HEAD_PX;
      for (const lines of wrapped) {
        for (const line of lines) {
          pen.text(line, x, y + 11, TEXT);
          y += 14;
        }
        y += 3;
        rule(pen, x, y - 1, width, RULE);
      }
    },
  };
}

const drawTitle = (pen: Pen, title: string, x: number, top: number, within: number): void =>
  pen.text(title, x, top + 14, { face: 'strong', size: 12.5, within });

const rule = (pen: Pen, x: number, y: number, width: number, ink: string): void =>
  pen.line(
    [
      [x, y],
      [x + width, y],
    ],
    { ink, width: ink === INK ? 1.5 : 0.6 },
  );
