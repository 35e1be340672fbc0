import type { Money } from './types.js';

/** Thin groups of three, so that 5 000 000 is not taken for 500 000. */
export const moneyInWords = ({ amount, currency }: Money): string =>
  `${amount.toFixed(Number.isInteger(amount) ? 0 : 2).replace(/\B(?=(\d{3})+(?!\d))/g, ',')} ${currency}`;
