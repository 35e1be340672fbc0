/**
 * The basket lies on the phone, in a cookie: it survives a reload, a lost signal and a start of the service, works without scripts, and the
 * service holds nothing of who has only looked. It is not signed, since nothing in it is believed: lines are only names of things, and prices come
 * from the offer each time. Its key makes the order sent twice one order (rule OR24).
 */
import { createHash, randomBytes } from 'node:crypto';
import type { BasketAsked, BasketLine } from '../../core/handover/orders/index.js';

export interface Basket extends BasketAsked {
  readonly key: string;
}

/** So that the cookie stays well under the 4,096 bytes browsers keep. */
export const MOST_LINES = 30;
const KEY = /^[0-9a-f]{32}$/;
const CODE = /^[A-Z0-9-]{1,32}$/;
const LINE =
  /^([a-z0-9-]{1,24}):(?:(picture|print|weekend):([0-9a-f]{32})|day:([0-9a-f]{32}):(\d{4}-\d\d-\d\d)):(\d{1,2})$/;

export const emptyBasket = (): Basket => ({ key: randomBytes(16).toString('hex'), lines: [], voucherCode: null });

/** Anything that was not written here is an empty basket. */
export function basketOf(cookie: string | undefined): Basket {
  const [key = '', code = '', ...lines] = (cookie ?? '').split('!');
  const read = lines.map(lineOf).filter((line) => line !== null);
  const isOurs = KEY.test(key) && (code === '' || CODE.test(code)) && read.length === lines.length;
  if (!isOurs || lines.length > MOST_LINES) return emptyBasket();
  return { key, voucherCode: code === '' ? null : code, lines: read };
}

export const cookieOf = ({ key, voucherCode, lines }: Basket): string =>
  [key, voucherCode ?? '', ...lines.map(lineText)].join('!');

export function lineText({ product, asked, quantity }: BasketLine): string {
  const what = asked.kind === 'picture' || asked.kind === 'print' ? asked.picture : asked.rider;
  return [product, asked.kind, what, ...(asked.kind === 'day' ? [asked.day] : []), quantity].join(':');
}

export function lineOf(text: string): BasketLine | null {
  const match = LINE.exec(text);
  if (!match) return null;
  const [, product = '', kind, what = '', rider = '', day = '', count] = match;
  const quantity = Number(count);
  if (kind === undefined) return { product, asked: { kind: 'day', rider, day }, quantity };
  if (kind === 'weekend') return { product, asked: { kind, rider: what }, quantity };
  return { product, asked: { kind: kind as 'picture' | 'print', picture: what }, quantity };
}

/** What people type for a code; null where it can be none. */
export function codeOf(typed: string): string | null {
  const code = typed.trim().toUpperCase();
  return CODE.test(code) ? code : null;
}

/** Sent again unchanged it is the same order; with another line it is another. */
export const formKeyOf = (basket: Basket): string => createHash('sha256').update(cookieOf(basket)).digest('hex');
