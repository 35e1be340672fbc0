/**
 * Which invoices and credit notes an order still lacks: an invoice once all of it is paid, a credit note for each refund of it. A refund
 * told before its payment waits for the invoice. Rules OR21, OR22.
 */
import { refundTotals } from './refundTotals.js';
import { stateOf } from './stateOf.js';
import type { FactKey, Offer, OrderId, Paper, PaperBody, PaperKind, StoredFact } from './types.js';

export interface PaperDue {
  readonly kind: PaperKind;
  readonly key: FactKey;
  readonly body: PaperBody;
}

/** The first one due; ask again once it has its number, which a credit note names. */
export function paperDue(
  order: OrderId,
  facts: readonly StoredFact[],
  papers: readonly Paper[],
  { seller, title, prices }: Pick<Offer, 'seller' | 'title' | 'prices'>,
): PaperDue | null {
  const { placed, paid } = stateOf(order, facts);
  if (placed === null || placed.totals.toPay === 0 || paid < placed.totals.toPay) return null;
  const { contact, lines, totals, language } = placed;
  const buyer = contact.name === '' ? null : { name: contact.name, address: contact.address };
  const common = { title, seller, buyer, includesTax: prices.includesTax, language };
  const invoice = papers.find(({ kind }) => kind === 'invoice');
  if (!invoice) {
    const came = facts.flatMap(({ key, at, fact }) => (fact.kind === 'paid' ? [{ ...fact, key, at }] : []));
    const { key, way, reference } = came.reduce((last, one) => (one.at >= last.at ? one : last));
    const payments = came.map((one) => ({ amount: one.amount, way: one.way, reference: one.reference }));
    const said = { lines, totals, way, reference, of: null, ...(payments.length > 1 ? { payments } : {}) };
    return { kind: 'invoice', key, body: { ...common, ...said } };
  }
  const credits = papers.filter(({ kind }) => kind === 'credit-note');
  const done = new Set(credits.map(({ key }) => key));
  const before = credits.map(({ body }) => body.totals);
  for (const { key, fact } of facts) {
    if (fact.kind !== 'refunded' || done.has(key)) continue;
    const back = refundTotals(invoice.body.totals, before, fact.amount);
    // What was paid too much was in no invoice.
    if (back.toPay === 0) continue;
    const of = { series: invoice.series, number: invoice.number };
    const said = { lines: [], totals: back, way: invoice.body.way, reference: fact.reference, of };
    return { kind: 'credit-note', key, body: { ...common, ...said } };
  }
  return null;
}

/** As it is printed: `T2026-17`. */
export const paperNumber = ({ series, number }: Pick<Paper, 'series' | 'number'>): string => `${series}-${number}`;
