/** Number cards to print and cut: eight a sheet of A4, each with its code, as plain data in millimetres from the sheet's corner. */
import { type NumberCard, numberCardText } from './numberCard.js';
import { type QrRuns, qrRuns } from './qrPath.js';

export interface CardSheet {
  readonly cards: readonly Omit<NumberCard, 'kind'>[];
  /** Where a rider's phone comes to with the code; absent before there is a gallery. */
  readonly galleryAddress?: string;
}

export interface LaidCard {
  readonly number: number;
  readonly left: number;
  readonly top: number;
  readonly qr: QrRuns;
}

const PAGE = { width: 210, height: 297 };
const MARGIN = 12;
const ACROSS = 2;
const DOWN = 4;
export const CARD_MM = {
  width: (PAGE.width - 2 * MARGIN) / ACROSS,
  height: (PAGE.height - 2 * MARGIN) / DOWN,
  /** With its white edge. */
  qr: 52,
} as const;

/** Cards by page. */
export function layCardSheets({ cards, galleryAddress }: CardSheet): readonly (readonly LaidCard[])[] {
  const laid = cards.map((card, index): LaidCard => {
    const place = index % (ACROSS * DOWN);
    return {
      number: card.number,
      left: MARGIN + (place % ACROSS) * CARD_MM.width,
      top: MARGIN + Math.floor(place / ACROSS) * CARD_MM.height,
      qr: codeOf(card, galleryAddress),
    };
  });
  return Array.from({ length: Math.ceil(laid.length / (ACROSS * DOWN)) }, (_, page) =>
    laid.slice(page * ACROSS * DOWN, (page + 1) * ACROSS * DOWN),
  );
}

function codeOf(card: Omit<NumberCard, 'kind'>, galleryAddress: string | undefined): QrRuns {
  const qr = qrRuns(numberCardText(card, galleryAddress), 'Q');
  if (qr !== null) return qr;
  throw new RangeError(
    `Expected a gallery address that fits a code but got one of ${galleryAddress?.length} letters. Use a shorter one.`,
  );
}
