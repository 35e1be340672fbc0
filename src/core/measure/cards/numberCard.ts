/**
 * The number card: a numbered QR code handed to a rider and photographed with the bike. It ties contact, gallery and bike. The
 * token follows from the meeting's secret and the number, so that a card of another meeting is told from one of this, and
 * nobody can make up the card of another rider.
 */
import { checkLetters } from './checkLetters.js';

export interface NumberCard {
  readonly kind: 'number-card';
  readonly number: number;
  /** 128 bits in base 32: A–Z and 2–7, 26 letters. */
  readonly token: string;
}

const NUMBER_CARD = /^TWN1:(\d{1,4}):([A-Z2-7]{26}):([0-9A-Z]{3})$/;

/** @param galleryAddress where the rider's phone goes with it; the card stands behind its #, which browsers send to nobody */
export function numberCardText({ number, token }: Omit<NumberCard, 'kind'>, galleryAddress?: string): string {
  const said = `TWN1:${number}:${token}`;
  const card = `${said}:${checkLetters(said)}`;
  return galleryAddress === undefined ? card : `${galleryAddress}#${card}`;
}

/** Null where the text is no number card, or a damaged one. */
export function readNumberCard(text: string): NumberCard | null {
  const card = text.slice(text.lastIndexOf('#') + 1);
  const [, number, token, check] = NUMBER_CARD.exec(card) ?? [];
  if (token === undefined || checkLetters(card.slice(0, -4)) !== check) return null;
  return { kind: 'number-card', number: Number(number), token };
}
