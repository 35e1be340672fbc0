/**
 * Payments and refunds of one order, each with its tax. Each takes its part of what earlier ones left, as credit notes do (OR21): an order
 * that is paid in parts comes, together, to its invoice, unit for unit. Rules OG20, OG21.
 */
import {
  type OrderState,
  type PaperNumber,
  refundTotals,
  type StoredFact,
  type TaxPart,
  type Totals,
} from '../../handover/orders/index.js';
import type { Minor } from '../../handover/orders/types.js';
import type { MoneyFact } from './types.js';

type Placed = NonNullable<OrderState['placed']>;

/** In order of time; one key is one fact. */
export function moneyFacts(
  placed: Omit<Placed, 'at'>,
  told: readonly StoredFact[],
  papers: readonly PaperNumber[],
): readonly MoneyFact[] {
  const before: Record<MoneyFact['kind'], Totals[]> = { paid: [], refunded: [] };
  const products = [...new Set(placed.lines.map(({ name }) => name))];
  return distinct(told).flatMap((one): readonly MoneyFact[] => {
    const { fact, order, key, at } = one;
    if (fact.kind !== 'paid' && fact.kind !== 'refunded') return [];
    const part = refundTotals(placed.totals, before[fact.kind], fact.amount);
    before[fact.kind].push(part);
    const sign = fact.kind === 'paid' ? 1 : -1;
    return [
      {
        order,
        key,
        at,
        kind: fact.kind,
        amount: signed(fact.amount, sign),
        how: fact.kind === 'paid' ? fact.way : fact.why,
        reference: fact.reference,
        paper: papers.find((paper) => isOf(paper, one))?.number ?? null,
        taxes: part.taxes.map((tax) => signedTax(tax, sign)),
        overpaid: signed((fact.amount - part.toPay) as Minor, sign),
        products,
      },
    ];
  });
}

/** What is paid in parts has one invoice, for the fact that made it whole. */
const isOf = (paper: PaperNumber, { order, key, fact }: StoredFact): boolean =>
  paper.order === order && (fact.kind === 'paid' ? paper.kind === 'invoice' : paper.key === key);

/** Nothing has no sign. */
const signed = (amount: Minor, sign: number): Minor => (amount === 0 ? 0 : amount * sign) as Minor;

const signedTax = ({ rate, net, tax, gross }: TaxPart, sign: number): TaxPart => ({
  rate,
  net: signed(net, sign),
  tax: signed(tax, sign),
  gross: signed(gross, sign),
});

/** The earliest telling of each key, in order of time. */
function distinct(told: readonly StoredFact[]): readonly StoredFact[] {
  const byKey = new Map<string, StoredFact>();
  for (const one of [...told].sort((a, b) => a.at - b.at || (a.key < b.key ? -1 : 1)))
    if (!byKey.has(one.key)) byKey.set(one.key, one);
  return [...byKey.values()];
}
