/**
 * The clock card: a QR code on the phone that tells the time, the body it is shown to and the session that comes next. A new one
 * each second. Only capital letters, digits and `:`, so that a code of 25 × 25 modules holds it (ISO/IEC 18004, alphanumeric
 * mode, version 2 level M: 38 letters) and is read when it is small in the picture.
 */
import { type EpochMs, epochMsOf } from '../../units.js';
import { checkLetters } from './checkLetters.js';

/** How long one code stands on the screen. */
export const CLOCK_CARD_SHOWN_MS = 1000;

export interface ClockCard {
  readonly kind: 'clock-card';
  /** When this code came onto the screen, by the phone's clock. */
  readonly shownAt: EpochMs;
  /** The body as the person counts them, from 1. */
  readonly body: number;
  /** The next session's name; absent where none comes. */
  readonly next?: string;
}

const CLOCK_CARD = /^TWC1:([0-9A-Z]{8,9}):(\d{1,2}):([^:]*):([0-9A-Z]{3})$/;
/** What the alphanumeric mode holds beside letters and digits, without the `:` that parts. */
const NOT_SHOWN = /[^0-9A-Z $%*+\-./]/g;
const MOST_NAME = 12;

export function clockCardText({ shownAt, body, next }: Omit<ClockCard, 'kind'>): string {
  const name = (next ?? '').toUpperCase().replace(NOT_SHOWN, '').slice(0, MOST_NAME);
  const said = `TWC1:${Math.floor(shownAt).toString(36).toUpperCase().padStart(8, '0')}:${body}:${name}`;
  return `${said}:${checkLetters(said)}`;
}

/** Null where the text is no clock card, or a damaged one. */
export function readClockCard(text: string): ClockCard | null {
  const [, at, body, next, check] = CLOCK_CARD.exec(text) ?? [];
  if (at === undefined || checkLetters(text.slice(0, -4)) !== check) return null;
  return {
    kind: 'clock-card',
    shownAt: epochMsOf(Number.parseInt(at, 36)),
    body: Number(body),
    ...(next !== '' && { next: next! }),
  };
}
