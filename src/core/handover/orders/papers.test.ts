/** Rules OR21 and OR22 of docs/rules/orders.md. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMsOf } from '../../units.js';
import {
  type Fact,
  type FactKey,
  minorOf,
  type OrderId,
  type Paper,
  paperDue,
  refundTotals,
  type StoredFact,
  type Totals,
  totalsOf,
} from './index.js';

const minor = (value: number) => minorOf(value, 'test');
const order = '0'.repeat(32) as OrderId;
const linesArb = fc.array(
  fc.record({
    unitPrice: fc.integer({ min: 0, max: 50_000 }).map(minor),
    quantity: fc.integer({ min: 1, max: 9 }),
    taxRate: fc.constantFrom(0, 500, 700, 1900, 2000),
  }),
  { minLength: 1, maxLength: 6 },
);

describe('what refunds take back', () => {
  it('OR21: refunds in any parts add up to the invoice, rate by rate, and none is negative or more than is left', () => {
    const parts = fc.array(fc.integer({ min: 1, max: 40_000 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(linesArb, fc.boolean(), parts, (lines, includesTax, amounts) => {
        const invoice = totalsOf(lines, { currency: 'EUR', includesTax });
        const credits: Totals[] = [];
        for (const amount of [...amounts, invoice.toPay]) credits.push(refundTotals(invoice, credits, minor(amount)));
        for (const credit of credits) {
          expect(credit.taxes.reduce((sum, part) => sum + part.gross, 0)).toBe(credit.toPay);
          for (const { net, tax, gross } of credit.taxes) {
            expect(net + tax).toBe(gross);
            expect(Math.min(net, tax, gross)).toBeGreaterThanOrEqual(0);
          }
        }
        for (const part of invoice.taxes) {
          const back = credits.map(({ taxes }) => taxes.find(({ rate }) => rate === part.rate)!);
          expect(back.reduce((sum, one) => sum + one.gross, 0)).toBe(part.gross);
          expect(back.reduce((sum, one) => sum + one.tax, 0)).toBe(part.tax);
        }
      }),
    );
  });

  it('OR21: half of an invoice at two rates takes half of each', () => {
    const lines = [
      { unitPrice: minor(1200), quantity: 1, taxRate: 2000 },
      { unitPrice: minor(1000), quantity: 1, taxRate: 0 },
    ];
    const half = refundTotals(totalsOf(lines, { currency: 'GBP', includesTax: true }), [], minor(1100));
    expect(half.taxes).toEqual([
      { rate: 0, net: 500, tax: 0, gross: 500 },
      { rate: 2000, net: 500, tax: 100, gross: 600 },
    ]);
  });
});

const totals = totalsOf([{ unitPrice: minor(4500), quantity: 1, taxRate: 2000 }], {
  currency: 'GBP',
  includesTax: true,
});
const told = (key: string, fact: Fact, at = 1): StoredFact => ({
  order,
  key: key as FactKey,
  at: epochMsOf(at),
  by: 'service',
  fact,
});
const placed = (toPay: Totals): StoredFact =>
  told('placed', {
    kind: 'placed',
    meeting: 'm',
    edition: 'e',
    lines: [],
    totals: toPay,
    voucher: null,
    way: 'cash',
    contact: { name: 'A', mail: '', address: null },
    consent: null,
    language: 'en',
  });
const paid = (key: string, amount: number, at = 1) =>
  told(key, { kind: 'paid', amount: minor(amount), way: 'cash', reference: key }, at);
const refunded = (key: string, amount: number) =>
  told(key, { kind: 'refunded', amount: minor(amount), why: 'kindness', reference: key });
const offer = {
  title: 'A day',
  seller: { name: 'A', contact: null, lines: [] },
  prices: { currency: 'GBP', includesTax: true, products: [], isPaidByOrganiser: false },
} as const;

/** All that are due, numbered as the database numbers them. */
function papersOf(facts: readonly StoredFact[]): readonly Paper[] {
  const papers: Paper[] = [];
  for (;;) {
    const due = paperDue(order, facts, papers, offer);
    if (due === null) return papers;
    papers.push({ series: due.kind, number: papers.length + 1, order, at: epochMsOf(1), ...due });
  }
}

describe('papers that are due', () => {
  it('OR22: an invoice once all is paid, for the fact that made it whole; none for nothing', () => {
    expect(papersOf([placed(totals), paid('a', 4000)])).toEqual([]);
    expect(papersOf([placed(totals), paid('a', 4000), paid('b', 500, 2)])).toMatchObject([
      { kind: 'invoice', key: 'b', body: { totals: { toPay: 4500 }, reference: 'b' } },
    ]);
    expect(papersOf([placed({ ...totals, toPay: minor(0) })])).toEqual([]);
  });

  it('OR22: a credit note for each refund, naming its invoice; one told before its payment waits for the invoice', () => {
    const facts = [refunded('r', 500), placed(totals), refunded('s', 4000)];
    expect(papersOf(facts)).toEqual([]);
    expect(papersOf([...facts, paid('a', 4500)])).toMatchObject([
      { kind: 'invoice', key: 'a' },
      { kind: 'credit-note', key: 'r', body: { totals: { toPay: 500 }, of: { series: 'invoice', number: 1 } } },
      { kind: 'credit-note', key: 's', body: { totals: { toPay: 4000 } } },
    ]);
  });

  it('OR22: what was paid twice and given back is in no paper, since it was in no invoice', () => {
    const twice = [placed(totals), paid('a', 4500), paid('b', 4500), refunded('r', 4500), refunded('s', 4500)];
    expect(papersOf(twice).map(({ kind, body }) => [kind, body.totals.toPay])).toEqual([
      ['invoice', 4500],
      ['credit-note', 4500],
    ]);
  });
});
