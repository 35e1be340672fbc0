/** What an order comes to. Tax is reckoned once for each rate over the whole order, half a unit rounded up; rules OR1–OR5. */
import { dealOut, shareOf, WHOLE } from './money.js';
import type { BasisPoints, Minor, OrderLine, PriceList, TaxPart, Totals, Voucher } from './types.js';

type PricedLine = Pick<OrderLine, 'unitPrice' | 'quantity' | 'taxRate'>;

export function totalsOf(
  lines: readonly PricedLine[],
  { currency, includesTax }: Pick<PriceList, 'currency' | 'includesTax'>,
  voucher: Voucher | null = null,
): Totals {
  const byRate = new Map<BasisPoints, number>();
  for (const line of lines) byRate.set(line.taxRate, (byRate.get(line.taxRate) ?? 0) + line.unitPrice * line.quantity);
  const rates = [...byRate.keys()].sort((a, b) => a - b);
  const priced = rates.map((rate) => byRate.get(rate)!);
  const asPriced = priced.reduce((a, b) => a + b, 0) as Minor;
  const off = offOf(asPriced, voucher);
  const offs = dealOut(off, priced);
  const taxes = rates.map((rate, i) => taxPart((priced[i]! - offs[i]!) as Minor, rate, includesTax));
  const toPay = taxes.reduce((sum, part) => sum + part.gross, 0) as Minor;
  return { currency, asPriced, off, toPay, taxes };
}

/** Never more than there is to pay. */
function offOf(asPriced: Minor, voucher: Voucher | null): Minor {
  if (voucher === null || voucher.kind === 'prepaid') return 0 as Minor;
  const off = voucher.kind === 'percent' ? shareOf(asPriced, voucher.off, WHOLE) : voucher.off;
  return Math.min(asPriced, Math.max(0, off)) as Minor;
}

function taxPart(amount: Minor, rate: BasisPoints, includesTax: boolean): TaxPart {
  const tax = shareOf(amount, rate, includesTax ? WHOLE + rate : WHOLE) as Minor;
  const net = (includesTax ? amount - tax : amount) as Minor;
  return { rate, net, tax, gross: (net + tax) as Minor };
}
