/** Amounts and shares as a language writes them. */
import { type CurrencyCode, type Minor, moneyText, type Totals } from '../../core/handover/orders/index.js';
import type { Words } from './words/index.js';

export const percentText = (rate: number, language: string): string =>
  new Intl.NumberFormat(language, { style: 'percent', maximumFractionDigits: 2 }).format(rate / 10_000);

export const priceText = (amount: Minor, currency: CurrencyCode, language: string, words: Words): string =>
  amount === 0 ? words.free : moneyText(amount, currency, language);

/** One line a rate that has tax. */
export const taxLines = (
  { taxes, currency }: Totals,
  includesTax: boolean,
  language: string,
  words: Words,
): readonly { readonly label: string; readonly amount: string }[] =>
  taxes
    .filter(({ tax }) => tax > 0)
    .map(({ rate, tax }) => ({
      label: (includesTax ? words.taxIn : words.taxOn)(percentText(rate, language)),
      amount: moneyText(tax, currency, language),
    }));
