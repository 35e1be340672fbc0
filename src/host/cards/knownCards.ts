/** What this meeting knows of its number cards: their tokens follow from its secret, and who has one stands in `people/`. */
import { createHmac } from 'node:crypto';
import type { KnownCards } from '../../core/measure/cards/index.js';
import { secretSoFar } from '../gallery/index.js';
import type { People } from '../meeting/index.js';

/** Base 32 of RFC 4648, which QR codes hold in their densest mode but for bytes. */
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567';
/** 128 bits, five a letter. */
const TOKEN_LETTERS = 26;

/** @param secret the meeting's, as hex digits */
export function numberCardToken(secret: string, number: number): string {
  const bytes = createHmac('sha256', Buffer.from(secret, 'hex'))
    .update(JSON.stringify(['number card', number]))
    .digest();
  const bits = BigInt(`0x${bytes.toString('hex')}`) >> BigInt(8 * bytes.length - 128);
  return Array.from({ length: TOKEN_LETTERS }, (_, place) => LETTERS[Number((bits >> BigInt(5 * place)) & 31n)]).join(
    '',
  );
}

/** With names, for the screen of who opened the meeting. */
export interface MeetingCards extends KnownCards {
  readonly nameOf: (number: number) => string | null;
}

/** Of two who were given one number the one written later has it: cards are handed on. */
export function knownCards(people: Pick<People, 'all'>, secret: string): MeetingCards {
  const holderOf = (number: number) =>
    people
      .all()
      .filter(({ card }) => card === number)
      .toSorted((a, b) => b.changedAt - a.changedAt)[0];
  return {
    tokenOf: (number) => numberCardToken(secret, number),
    personOf: (number) => holderOf(number)?.id,
    nameOf: (number) => holderOf(number)?.name ?? null,
  };
}

/** Null where no card of this meeting was ever made: then none can be told from another meeting's. */
export async function cardsOfMeeting(folder: string, people: Pick<People, 'all'>): Promise<MeetingCards | null> {
  const secret = await secretSoFar(folder);
  return secret === null ? null : knownCards(people, secret);
}
