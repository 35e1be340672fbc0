/**
 * Money in whole minor units, as many digits as ISO 4217 list one gives a currency. The platform's tables (CLDR) are of how people write
 * amounts and differ: they know the forint without its fillér, in which banks still reckon.
 */
import { OrderError } from './orderError.js';
import type { BasisPoints, CurrencyCode, Minor } from './types.js';

/** Beyond this a product with a rate is no whole number any more. */
const MOST = 100_000_000_000;

export function minorOf(value: number, where: string): Minor {
  if (Number.isInteger(value) && Math.abs(value) <= MOST) return value as Minor;
  const sentence = `Expected a whole number of minor units within ±${MOST} for ${where} but got ${value}. Say 1250 for 12.50.`;
  throw new OrderError(sentence, where);
}

/** Those that have not two; list one of 2024-06-25. */
const OTHER_DIGITS: Readonly<Record<number, string>> = {
  0: 'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF',
  3: 'BHD IQD JOD KWD LYD OMR TND',
};
const digitsOf = new Map(
  Object.entries(OTHER_DIGITS).flatMap(([digits, codes]) =>
    codes.split(' ').map((code) => [code, Number(digits)] as const),
  ),
);

const currencies: ReadonlySet<string> = new Set(Intl.supportedValuesOf('currency'));

export function minorDigits(currency: CurrencyCode): number {
  if (currencies.has(currency)) return digitsOf.get(currency) ?? 2;
  const sentence = `Expected a currency of ISO 4217, as EUR or GBP, but got "${currency}". Mend the price list.`;
  throw new OrderError(sentence, 'currency');
}

/** `12.50` of 1250 in a currency with two digits: for files and invoices, without sign of currency or grouping. */
export function decimalText(amount: Minor, currency: CurrencyCode): string {
  const digits = minorDigits(currency);
  const text = Math.abs(amount)
    .toString()
    .padStart(digits + 1, '0');
  const sign = amount < 0 ? '-' : '';
  return digits === 0 ? `${sign}${text}` : `${sign}${text.slice(0, -digits)}.${text.slice(-digits)}`;
}

/** As people of that language write it, with the currency. */
export function moneyText(amount: Minor, currency: CurrencyCode, language: string): string {
  // A text, so that no amount goes through a fraction of a number.
  return formatOf(currency, language).format(decimalText(amount, currency) as `${number}`);
}

/** Making one costs far more than using it, and a page has dozens of prices. */
const formats = new Map<string, Intl.NumberFormat>();

function formatOf(currency: CurrencyCode, language: string): Intl.NumberFormat {
  const digits = minorDigits(currency);
  const style = { style: 'currency', currency, minimumFractionDigits: digits, maximumFractionDigits: digits } as const;
  const key = `${currency} ${language}`;
  const format = formats.get(key) ?? new Intl.NumberFormat(language, style);
  formats.set(key, format);
  return format;
}

/** What was typed for an amount of that currency; null where it is none. A comma may part the fraction. */
export function parseMoney(text: string, currency: CurrencyCode): Minor | null {
  const digits = minorDigits(currency);
  const match = /^\s*(\d{1,9})(?:[.,](\d+))?\s*$/.exec(text);
  if (!match || (match[2] ?? '').length > digits) return null;
  return Number(match[1]! + (match[2] ?? '').padEnd(digits, '0')) as Minor;
}

/** Half away from nothing, in whole numbers; the products of large sums are beyond what a number holds exactly. */
export function shareOf(amount: number, part: number, whole: number): number {
  const [twice, of] = [2n * BigInt(Math.abs(amount)) * BigInt(part) + BigInt(whole), 2n * BigInt(whole)];
  return Math.sign(amount) * Number(twice / of);
}

export const WHOLE: BasisPoints = 10_000;

/** Parts in proportion to the weights that add up to the amount: what is left over goes where most was cut off. */
export function dealOut(amount: Minor, weights: readonly number[]): readonly Minor[] {
  const sum = weights.reduce((a, b) => a + b, 0);
  if (sum === 0) return weights.map(() => 0 as Minor);
  const exact = weights.map((weight) => BigInt(amount) * BigInt(weight));
  const parts = exact.map((one) => Number(one / BigInt(sum)));
  const left = amount - parts.reduce((a, b) => a + b, 0);
  const byCut = exact
    .map((one, index) => ({ index, cut: Number(one % BigInt(sum)) }))
    .sort((a, b) => b.cut - a.cut || a.index - b.index);
  for (const { index } of byCut.slice(0, left)) parts[index]! += 1;
  return parts as unknown as readonly Minor[];
}
