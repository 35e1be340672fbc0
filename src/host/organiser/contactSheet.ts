/** The set on A4: five rows of three, each with its number, so that one can be named over the telephone. */
import sharp from 'sharp';
import type { CaptionLine } from '../../core/handover/organiser/index.js';
import { INNER_PX, PAPER } from '../../core/plan/sheet/paper.js';
import { INK_2, type Pen, penOn, RULE } from '../plan/paper/pen.js';

export interface ContactSheet {
  readonly pdf: Uint8Array;
  readonly pages: number;
}

export interface ContactPicture {
  readonly line: CaptionLine;
  /** Absolute path of its final. */
  readonly path: string;
}

const COLUMNS = 3;
const ROWS = 5;
const GAP = 14;
const HEAD_PX = 58;
const CELL = {
  width: (INNER_PX - (COLUMNS - 1) * GAP) / COLUMNS,
  height: (PAPER.heightPx - PAPER.topPx - PAPER.bottomPx - HEAD_PX) / ROWS,
} as const;
const WORDS_PX = 56;
/** Sharp enough in print at that size, and a page stays under a megabyte. */
const PICTURE_EDGE_PX = 560;
const NOTE = { size: 11, ink: INK_2 } as const;

export async function contactSheet(
  pictures: readonly ContactPicture[],
  { title, note, madeAt }: { readonly title: string; readonly note: string; readonly madeAt: Date },
): Promise<ContactSheet> {
  const pen = penOn({ title, madeAt });
  const each = COLUMNS * ROWS;
  for (let from = 0; from === 0 || from < pictures.length; from += each) {
    if (from > 0) pen.newPage();
    drawHead(pen, title, note, pen.pages);
    for (const [i, picture] of pictures.slice(from, from + each).entries()) await drawPicture(pen, picture, i);
  }
  const { pages } = pen;
  return { pdf: await pen.end(), pages };
}

function drawHead(pen: Pen, title: string, note: string, page: number): void {
  pen.text(title, 0, 17, { face: 'strong', size: 17, within: INNER_PX - 80 });
  pen.text(`page ${page}`, INNER_PX, 17, { ...NOTE, align: 'right' });
  pen.text(note, 0, 36, { ...NOTE, within: INNER_PX });
  pen.line([
    [0, 46],
    [INNER_PX, 46],
  ]);
}

async function drawPicture(pen: Pen, { line, path }: ContactPicture, place: number): Promise<void> {
  const x = (place % COLUMNS) * (CELL.width + GAP);
  const y = HEAD_PX + Math.floor(place / COLUMNS) * CELL.height;
  const box = { width: CELL.width, height: CELL.height - WORDS_PX };
  const { data, info } = await sharp(path)
    .rotate()
    .resize({ width: PICTURE_EDGE_PX, height: PICTURE_EDGE_PX, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .jpeg({ quality: 80 })
    .toBuffer({ resolveWithObject: true });
  const scale = Math.min(box.width / info.width, box.height / info.height);
  const [width, height] = [info.width * scale, info.height * scale];
  pen.picture(data, x, y + box.height - height, width, height);
  const words = [
    line.class,
    line.numbers === '' ? '' : `No. ${line.numbers}`,
    line.what === 'riding' ? '' : line.what,
    line.spot,
  ];
  pen.text(String(line.number), x, y + box.height + 22, { face: 'figures', size: 20 });
  const left = x + 30;
  const within = CELL.width - 30;
  pen.text(words.filter(Boolean).join(', '), left, y + box.height + 15, { size: 12, within });
  pen.text(line.file, left, y + box.height + 29, { ...NOTE, size: 9.5, within });
  if (line.guesses !== '') pen.text(line.guesses, left, y + box.height + 42, { ...NOTE, face: 'pencil', within });
  pen.line(
    [
      [x, y + CELL.height - 10],
      [x + CELL.width, y + CELL.height - 10],
    ],
    { ink: RULE, width: 0.6 },
  );
}
