/**
 * The word a buyer writes on a transfer and says at the van: 40 bits, in letters and digits that are not taken for one another
 * (Crockford's base 32). Reckoned from the order's id, from which nothing can be reckoned back.
 */
import { createHash } from 'node:crypto';
import type { OrderId } from '../../core/handover/orders/index.js';

const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
const LENGTH = 8;

export function referenceOf(order: OrderId): string {
  const bits = createHash('sha256').update(`reference ${order}`).digest().readUIntBE(0, 5);
  const letters = Array.from({ length: LENGTH }, (_, i) => LETTERS[Math.floor(bits / 32 ** (LENGTH - 1 - i)) % 32]!);
  return `${letters.slice(0, 4).join('')}-${letters.slice(4).join('')}`;
}

/** As people type it: small letters, without the dash, O for 0, I and L for 1. */
export const plainReference = (typed: string): string =>
  typed.toUpperCase().replace(/[\s-]/g, '').replace(/O/g, '0').replace(/[IL]/g, '1');
