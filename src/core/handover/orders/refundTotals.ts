/**
 * What a credit note takes back of each rate. A refund is dealt out over what earlier ones left, so that together they come to the invoice,
 * unit for unit, and none to more. Rule OR21.
 */
import { dealOut, shareOf } from './money.js';
import type { Minor, TaxPart, Totals } from './types.js';

export function refundTotals(invoice: Totals, before: readonly Totals[], asked: Minor): Totals {
  const left = invoice.taxes.map((part) => before.reduce((rest, one) => lessen(rest, one), part));
  const sum = left.reduce((all, part) => all + part.gross, 0);
  const amount = Math.min(asked, sum) as Minor;
  const gross = dealOut(
    amount,
    left.map((part) => part.gross),
  );
  const taxes = left.map((part, i) => partOf(part, gross[i]!));
  return { currency: invoice.currency, asPriced: amount, off: 0 as Minor, toPay: amount, taxes };
}

function lessen(part: TaxPart, taken: Totals): TaxPart {
  const same = taken.taxes.find(({ rate }) => rate === part.rate);
  if (!same) return part;
  const gross = (part.gross - same.gross) as Minor;
  const tax = (part.tax - same.tax) as Minor;
  return { rate: part.rate, gross, tax, net: (gross - tax) as Minor };
}

/** No rate gives back more tax than it has left: a share of whole numbers, rounded, stays within the whole. */
function partOf(left: TaxPart, gross: Minor): TaxPart {
  const tax = (left.gross === 0 ? 0 : shareOf(left.tax, gross, left.gross)) as Minor;
  return { rate: left.rate, gross, tax, net: (gross - tax) as Minor };
}
