/** Number cards on A4 to print and cut. */
import { CARD_MM, type CardSheet, type LaidCard, layCardSheets } from '../../../core/measure/cards/index.js';
import { PAPER } from '../../../core/plan/sheet/paper.js';
import { EDGE, INK_2, type Pen, penOn } from './pen.js';

export interface CardSheetPaper {
  readonly pdf: Uint8Array;
  readonly pages: number;
}

const PX_A_MM = 96 / 25.4;
const px = (mm: number): number => mm * PX_A_MM;
const INK_OF_CODES = '#000000';
/** Rows of a code overlap by a hair: else some printers leave white between them. */
const OVERLAP = 0.03;
const NOTE = { size: 13, ink: INK_2 } as const;
const NOTE_PX = 17;

export async function cardSheetPdf(sheet: CardSheet, meeting: string, madeAt: Date): Promise<CardSheetPaper> {
  const pen = penOn({ title: `Number cards, ${meeting}`, madeAt });
  const words = [
    'Hold this beside your bike for one picture.',
    ...(sheet.galleryAddress === undefined ? [] : ['Then find your pictures with it.']),
    meeting,
  ];
  for (const [index, page] of layCardSheets(sheet).entries()) {
    if (index > 0) pen.newPage();
    for (const card of page) drawCard(pen, card, words);
  }
  const { pages } = pen;
  return { pdf: await pen.end(), pages };
}

/** The pen counts from what may be printed, cards from the corner of the sheet. */
function drawCard(pen: Pen, { left, top, qr, number }: LaidCard, words: readonly string[]): void {
  const [x, y] = [px(left) - PAPER.edgePx, px(top) - PAPER.topPx];
  pen.box(x, y, px(CARD_MM.width), px(CARD_MM.height), { ink: EDGE, width: 0.8, dash: [4, 4] });
  const module = px(CARD_MM.qr) / qr.size;
  const codeTop = y + px(CARD_MM.height - CARD_MM.qr) / 2;
  for (const run of qr.runs)
    pen.box(x + px(2) + run.x * module, codeTop + run.y * module, run.length * module, module * (1 + OVERLAP), {
      fill: INK_OF_CODES,
    });
  const from = x + px(CARD_MM.qr + 4);
  const room = px(CARD_MM.width - CARD_MM.qr - 7);
  pen.text(String(number), from, y + px(30), { face: 'figures', size: 72, within: room });
  let baseline = y + px(38);
  for (const line of words.flatMap((one) => pen.wrap(one, room, NOTE))) {
    pen.text(line, from, baseline, NOTE);
    baseline += NOTE_PX;
  }
}
