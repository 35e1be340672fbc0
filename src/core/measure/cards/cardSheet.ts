/** Number cards to print and cut: sheets of A4 with eight cards each, as SVG in millimetres. */
import { type NumberCard, numberCardText } from './numberCard.js';
import { qrPath } from './qrPath.js';

export interface CardSheet {
  readonly meeting: string;
  readonly cards: readonly Omit<NumberCard, 'kind'>[];
  /** Where a rider's phone comes to with the code; absent before there is a gallery. */
  readonly galleryAddress?: string;
  readonly words: { readonly hold: string; readonly find: string };
}

const PAGE = { width: 210, height: 297 };
const MARGIN = 12;
const ACROSS = 2;
const DOWN = 4;
const CARD = { width: (PAGE.width - 2 * MARGIN) / ACROSS, height: (PAGE.height - 2 * MARGIN) / DOWN };
const QR_MM = 52;

/** One SVG a page. */
export function drawCardSheets({ cards, ...sheet }: CardSheet): readonly string[] {
  const pages = Array.from({ length: Math.ceil(cards.length / (ACROSS * DOWN)) }, (_, page) =>
    cards.slice(page * ACROSS * DOWN, (page + 1) * ACROSS * DOWN),
  );
  return pages.map(
    (ofPage) =>
      `<svg xmlns="http://www.w3.org/2000/svg" width="${PAGE.width}mm" height="${PAGE.height}mm" viewBox="0 0 ${PAGE.width} ${PAGE.height}"><rect width="100%" height="100%" fill="#fff"/>${ofPage
        .map((card, place) => drawCard(card, sheet, place))
        .join('')}</svg>`,
  );
}

function drawCard(card: Omit<NumberCard, 'kind'>, sheet: Omit<CardSheet, 'cards'>, place: number): string {
  const [left, top] = [MARGIN + (place % ACROSS) * CARD.width, MARGIN + Math.floor(place / ACROSS) * CARD.height];
  const qr = qrPath(numberCardText(card, sheet.galleryAddress), 'Q');
  if (qr === null)
    throw new RangeError(
      `Expected a gallery address that fits a code but got one of ${sheet.galleryAddress?.length} letters. Use a shorter one.`,
    );
  const scale = QR_MM / qr.size;
  const line = (y: number, size: number, words: string, weight = 480) =>
    `<text x="${left + QR_MM + 4}" y="${top + y}" font-family="Archivo Variable, sans-serif" font-size="${size}" font-weight="${weight}">${escaped(words)}</text>`;
  return [
    `<rect x="${left}" y="${top}" width="${CARD.width}" height="${CARD.height}" fill="none" stroke="#7F868A" stroke-width="0.2" stroke-dasharray="1 1"/>`,
    `<path transform="translate(${left + 2} ${top + (CARD.height - QR_MM) / 2}) scale(${scale})" d="${qr.path}" fill="#000"/>`,
    line(32, 20, String(card.number), 640),
    line(42, 3.6, sheet.words.hold),
    ...(sheet.galleryAddress === undefined ? [] : [line(47, 3.6, sheet.words.find)]),
    line(54, 3.2, sheet.meeting),
  ].join('');
}

const escaped = (words: string): string => words.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
