/**
 * Paper that leads to the gallery: cards for the whole meeting, four on A4 to be cut to A6, and slips for single riders,
 * eight on A4. Everything a code says stands beside it in letters: a phone may have no reader.
 */
import { qrRuns } from '../../../core/measure/cards/index.js';
import { PAPER } from '../../../core/plan/sheet/paper.js';
import { EDGE, INK_2, type Pen, penOn } from '../../plan/paper/pen.js';
import { GalleryError } from '../galleryError.js';

export interface FindPaper {
  readonly pdf: Uint8Array;
  readonly pages: number;
}

export interface MeetingWords {
  readonly title: string;
  readonly day: string;
  readonly credit: string | null;
}

/** In millimetres of the sheet. */
interface Place {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

const A4 = { width: 210, height: 297 };
const SLIP_EDGE = 12;
export const CARDS = { across: 2, down: 2, edge: 0 } as const;
export const SLIPS = { across: 2, down: 4, edge: SLIP_EDGE } as const;

export function placeOnSheet(n: number, { across, down, edge }: typeof CARDS | typeof SLIPS): Place {
  const width = (A4.width - 2 * edge) / across;
  const height = (A4.height - 2 * edge) / down;
  return { left: edge + (n % across) * width, top: edge + Math.floor(n / across) * height, width, height };
}

const PX_A_MM = 96 / 25.4;
const px = (mm: number): number => mm * PX_A_MM;
const CODE_INK = '#000000';
/** Rows of a code overlap by a hair: else some printers leave white between them. */
const OVERLAP = 0.03;
const HEAD = { face: 'strong', size: 30 } as const;
const LEAD = { size: 16 } as const;
const NOTE = { size: 12, ink: INK_2 } as const;
const NOTE_LINE = 16;

/** One page of four cards, all the same. */
export async function findCardsPdf(address: string, words: MeetingWords, madeAt: Date): Promise<FindPaper> {
  const pen = penOn({ title: `Find your pictures, ${words.title}`, madeAt });
  for (let n = 0; n < CARDS.across * CARDS.down; n++) drawCard(pen, placeOnSheet(n, CARDS), address, words);
  return { pages: pen.pages, pdf: await pen.end() };
}

function drawCard(pen: Pen, place: Place, address: string, { title, day, credit }: MeetingWords): void {
  const [left, top] = cornerOf(pen, place);
  const edge = px(9);
  const room = px(place.width) - 2 * edge;
  const middle = left + px(place.width) / 2;
  let baseline = top + edge + 34;
  for (const line of pen.wrap(title, room, LEAD).slice(0, 2)) {
    pen.text(line, middle, baseline - 14, { ...LEAD, align: 'middle' });
    baseline += 20;
  }
  pen.text(day, middle, baseline - 12, { ...NOTE, align: 'middle', within: room });
  pen.text('Find your pictures', middle, baseline + 28, { ...HEAD, align: 'middle', within: room });
  const size = px(74);
  drawCode(pen, address, middle - size / 2, baseline + 40, size);
  baseline = baseline + 40 + size + 12;
  for (const line of pen.wrap(plainAddress(address), room, LEAD).slice(0, 3)) {
    pen.text(line, middle, baseline, { ...LEAD, align: 'middle' });
    baseline += 20;
  }
  const said = credit === null ? 'One tap on one picture brings your whole day.' : `Photographs by ${credit}`;
  pen.text(said, middle, baseline + 6, { ...NOTE, align: 'middle', within: room });
}

export interface RiderSlip {
  /** Of the private page. */
  readonly address: string;
  /** How the rider looks, in words; never a name. */
  readonly livery: string;
  readonly pictures: number;
}

export async function riderSlipsPdf(
  slips: readonly RiderSlip[],
  words: MeetingWords,
  madeAt: Date,
): Promise<FindPaper> {
  const pen = penOn({ title: `Slips for riders, ${words.title}`, madeAt });
  const perPage = SLIPS.across * SLIPS.down;
  for (const [n, slip] of slips.entries()) {
    if (n > 0 && n % perPage === 0) pen.newPage();
    drawSlip(pen, placeOnSheet(n % perPage, SLIPS), slip, words);
  }
  return { pages: pen.pages, pdf: await pen.end() };
}

const SLIP_CODE_MM = 46;

function drawSlip(pen: Pen, place: Place, slip: RiderSlip, { title, day }: MeetingWords): void {
  const [left, top] = cornerOf(pen, place);
  drawCode(pen, slip.address, left + px(2), top + px(3), px(SLIP_CODE_MM));
  const from = left + px(SLIP_CODE_MM + 4);
  const room = px(place.width - SLIP_CODE_MM - 7);
  pen.text('Your pictures', from, top + px(11), { face: 'strong', size: 20, within: room });
  let baseline = top + px(17);
  const lines = [`${slip.livery}. ${slip.pictures === 1 ? '1 picture' : `${slip.pictures} pictures`}.`, title, day];
  for (const line of lines.flatMap((one) => pen.wrap(one, room, NOTE)).slice(0, 8)) {
    pen.text(line, from, baseline, NOTE);
    baseline += NOTE_LINE;
  }
  baseline = top + px(SLIP_CODE_MM + 7);
  const foot = ['Whoever has this address sees these pictures.', plainAddress(slip.address)];
  for (const line of foot.flatMap((one) => pen.wrap(one, px(place.width - 6), NOTE)).slice(0, 4)) {
    pen.text(line, left + px(3), baseline, NOTE);
    baseline += NOTE_LINE - 2;
  }
}

/** The pen counts from what may be printed, cards from the corner of the sheet. Draws the line to cut along. */
function cornerOf(pen: Pen, { left, top, width, height }: Place): readonly [x: number, y: number] {
  const [x, y] = [px(left) - PAPER.edgePx, px(top) - PAPER.topPx];
  pen.box(x, y, px(width), px(height), { ink: EDGE, width: 0.8, dash: [4, 4] });
  return [x, y];
}

function drawCode(pen: Pen, text: string, left: number, top: number, size: number): void {
  const qr = qrRuns(text, 'M');
  if (qr === null)
    throw new GalleryError(
      `Expected an address that fits a code but got one of ${text.length} letters. Use a shorter one.`,
      text,
    );
  const module = size / qr.size;
  for (const { x, y, length } of qr.runs)
    pen.box(left + x * module, top + y * module, length * module, module * (1 + OVERLAP), { fill: CODE_INK });
}

/** As people type it. */
const plainAddress = (address: string): string => address.replace(/^https?:\/\//, '').replace(/\/$/, '');
