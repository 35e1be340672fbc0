/** Rules OG20–OG28 of docs/rules/organiser.md. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type FactKey,
  minorOf,
  type OrderId,
  type OrderLine,
  type PaperNumber,
  type StoredFact,
  totalsOf,
} from '../../handover/orders/index.js';
import type { SpotId } from '../../ids.js';
import { epochMsOf } from '../../units.js';
import { accountantTable } from './accountant.js';
import { takingsBars } from './bars.js';
import { takingsOf } from './takingsOf.js';
import type { PicturePlace, TakingsInput, TakingsRow } from './types.js';

const minor = (value: number) => minorOf(value, 'test');
const MEETING = 'a'.repeat(32);
const pictureId = (n: number): string => n.toString(16).padStart(32, '0');
const place = (spot: string | null, session: string | null, rider: string | null): PicturePlace => ({
  spot: spot as SpotId | null,
  session,
  rider,
});
const PLACES = new Map([
  [pictureId(1), place('beacon', 'N1', 'N-k')],
  [pictureId(2), place('gannet', 'N2', 'N-k')],
  [pictureId(3), place('gannet', 'F1', 'F-b')],
]);
const RIDER = 'b'.repeat(32);
const known: Omit<TakingsInput, 'facts'> = {
  meeting: MEETING,
  places: PLACES,
  riders: new Map([[RIDER, 'N-k']]),
  minutes: new Map([
    ['beacon' as SpotId, 30],
    ['gannet' as SpotId, 0.5],
  ]),
  papers: [],
  commission: null,
};

const line = (price: number, pictures: readonly number[], more: Partial<OrderLine> = {}): OrderLine => ({
  product: 'one',
  name: 'One picture',
  asked: { kind: 'picture', picture: pictureId(pictures[0] ?? 9) },
  quantity: 1,
  unitPrice: minor(price),
  taxRate: 2000,
  licence: 'personal',
  longEdgePx: null,
  pictures: pictures.map(pictureId),
  ...more,
});
const dayLine = (price: number, pictures: readonly number[]): OrderLine =>
  line(price, pictures, {
    product: 'day',
    name: 'Your whole day',
    asked: { kind: 'day', rider: RIDER, day: '2026-09-19' },
  });
const print = (price: number, picture: number): OrderLine =>
  line(price, [picture], {
    product: 'paper',
    name: 'Print',
    asked: { kind: 'print', picture: pictureId(picture) },
    taxRate: 700,
  });

let counter = 0;
const NOON = Date.UTC(2026, 8, 20, 12);
const told = (order: string, fact: StoredFact['fact'], minute = 0): StoredFact => ({
  order: order as OrderId,
  key: `key-${counter++}` as FactKey,
  at: epochMsOf(NOON + minute * 60_000),
  by: 'photographer',
  fact,
});
const placed = (order: string, lines: readonly OrderLine[], currency = 'GBP', meeting = MEETING, off = 0): StoredFact =>
  told(order, {
    kind: 'placed',
    meeting,
    edition: 'e',
    lines,
    totals: totalsOf(
      lines,
      { currency, includesTax: true },
      { code: 'off', kind: 'percent', off, uses: null, expiresAt: null },
    ),
    voucher: null,
    way: 'cash',
    contact: { name: 'Someone', mail: 'someone@example.org', address: null },
    consent: null,
    language: 'en',
  });
const paid = (order: string, amount: number, minute = 1): StoredFact =>
  told(order, { kind: 'paid', amount: minor(amount), way: 'cash', reference: 'slip' }, minute);
const refunded = (order: string, amount: number, minute = 5): StoredFact =>
  told(order, { kind: 'refunded', amount: minor(amount), why: 'kindness', reference: 'slip' }, minute);

const sumOf = (rows: readonly TakingsRow[]): number => rows.reduce((sum, { gross }) => sum + gross, 0);

describe('a meeting’s takings', () => {
  const facts = [
    placed('o1', [line(1200, [1]), dayLine(4500, [1, 2])]),
    paid('o1', 5700),
    placed('o2', [print(1500, 3)]),
    paid('o2', 1500),
    refunded('o2', 1500),
  ];
  const [takings] = takingsOf({ ...known, facts }).takings;

  it('OG20: are the money that came less what went; tax is apart', () => {
    // 5,700 with 20 % in it: 950; 1,500 with 7 % in it: 98, all of it given back.
    expect(takings).toMatchObject({
      currency: 'GBP',
      orders: 2,
      paid: 7200,
      refunded: 1500,
      gross: 5700,
      tax: 950,
      net: 4750,
      left: 4750,
    });
    expect(takings!.taxes).toEqual([
      { rate: 700, net: 0, tax: 0, gross: 0 },
      { rate: 2000, net: 4750, tax: 950, gross: 5700 },
    ]);
  });

  it('OG22: are dealt out by product, spot, session and rider', () => {
    expect(takings!.byProduct).toEqual([
      { of: 'Your whole day', gross: 4500, refunded: 0, orders: 1 },
      { of: 'One picture', gross: 1200, refunded: 0, orders: 1 },
      { of: 'Print', gross: 0, refunded: 1500, orders: 1 },
    ]);
    expect(takings!.bySession.map(({ of, gross }) => [of, gross])).toEqual([
      ['N1', 3450],
      ['N2', 2250],
      ['F1', 0],
    ]);
    expect(takings!.byRider.map(({ of, gross }) => [of, gross])).toEqual([
      ['N-k', 5700],
      ['F-b', 0],
    ]);
    expect(takings!.byWay.map(({ of, gross }) => [of, gross])).toEqual([
      ['cash', 7200],
      ['refunded: kindness', -1500],
    ]);
  });

  it('OG23: by spot say the money for a minute stood, and nothing of it where less than a minute was', () => {
    expect(takings!.bySpot).toEqual([
      { of: 'beacon', gross: 3450, refunded: 0, orders: 1, minutes: 30, aMinute: 115 },
      { of: 'gannet', gross: 2250, refunded: 1500, orders: 2, minutes: 0.5, aMinute: null },
    ]);
  });

  it('OG21: an order paid in parts has, together, the tax of its invoice', () => {
    // 1,001 with 20 % in it: 166.83, so 167, whatever the parts.
    const parts = [placed('o', [line(1001, [1])]), paid('o', 333, 1), paid('o', 333, 2), paid('o', 335, 3)];
    expect(takingsOf({ ...known, facts: parts }).takings[0]).toMatchObject({ gross: 1001, tax: 167, net: 834 });
  });

  it('OG21: what was paid over the order has no tax and no product, and is counted', () => {
    const over = takingsOf({ ...known, facts: [placed('o', [line(1200, [1])]), paid('o', 1500)] }).takings[0]!;
    expect(over).toMatchObject({ gross: 1500, tax: 200 });
    expect(over.byProduct.find(({ of }) => of === null)).toMatchObject({ gross: 300 });
  });

  it('OG20: one fact told twice counts once; another meeting’s order not at all; another currency by itself', () => {
    const twice = paid('o1', 1200);
    const found = takingsOf({
      ...known,
      facts: [
        placed('o1', [line(1200, [1])]),
        twice,
        twice,
        placed('x', [line(9900, [1])], 'GBP', 'f'.repeat(32)),
        paid('x', 9900),
        placed('y', [line(300, [1])], 'JPY'),
        paid('y', 300),
      ],
    });
    expect(found.takings.map(({ currency, gross }) => [currency, gross])).toEqual([
      ['GBP', 1200],
      ['JPY', 300],
    ]);
  });

  it('OG25: money of an order that was not fetched is in no table and is said', () => {
    const found = takingsOf({ ...known, facts: [paid('lost', 500)] });
    expect(found.takings).toEqual([]);
    expect(found.left).toEqual([
      'Expected order lost beside its money (500 paid, 0 refunded, in minor units), but it was not fetched. It is in no table: fetch the orders again.',
    ]);
  });

  it('OG24: the organiser’s part is reckoned once, of what was agreed, half a unit up', () => {
    const one = [placed('o', [line(1230, [1])]), paid('o', 1230)];
    const part = (commission: TakingsInput['commission']) =>
      takingsOf({ ...known, facts: one, commission }).takings[0]!;
    // 15 % of 1,230 is 184.5; of 1,025 without tax 153.75.
    expect(part({ kind: 'percent', basisPoints: 1500, of: 'gross' })).toMatchObject({
      commission: { amount: 185 },
      left: 840,
    });
    expect(part({ kind: 'percent', basisPoints: 1500, of: 'net' })).toMatchObject({
      commission: { amount: 154 },
      left: 871,
    });
    expect(part({ kind: 'fixed', amount: 5000 })).toMatchObject({ commission: { amount: 5000 }, left: -3975 });
  });
});

const orderSpec = fc.record({
  off: fc.constantFrom(0, 1000, 3333, 10_000),
  lines: fc.array(
    fc.record({
      price: fc.integer({ min: 0, max: 20_000 }),
      pictures: fc.array(fc.integer({ min: 0, max: 6 }), { maxLength: 5 }),
      rate: fc.constantFrom(0, 700, 1900, 2000),
    }),
    { minLength: 1, maxLength: 4 },
  ),
  payments: fc.array(fc.integer({ min: 1, max: 30_000 }), { maxLength: 4 }),
  refunds: fc.array(fc.integer({ min: 1, max: 30_000 }), { maxLength: 3 }),
});

describe('OG22: no unit is lost or made', () => {
  it('in any table, whatever was ordered, paid in parts, overpaid and given back', () => {
    fc.assert(
      fc.property(fc.array(orderSpec, { minLength: 1, maxLength: 5 }), (orders) => {
        const facts = orders.flatMap(({ lines, payments, refunds, off }, i) => [
          placed(
            `o${i}`,
            lines.map(({ price, pictures, rate }) => line(price, pictures, { taxRate: rate })),
            'GBP',
            MEETING,
            off,
          ),
          ...payments.map((amount, k) => paid(`o${i}`, amount, k)),
          ...refunds.map((amount, k) => refunded(`o${i}`, amount, 10 + k)),
        ]);
        const came = orders.flatMap(({ payments }) => payments).reduce((a, b) => a + b, 0);
        const went = orders.flatMap(({ refunds }) => refunds).reduce((a, b) => a + b, 0);
        const takings = takingsOf({ ...known, facts }).takings[0]!;
        expect([takings.paid, takings.refunded, takings.gross]).toEqual([came, went, came - went]);
        for (const rows of [
          takings.byProduct,
          takings.bySpot,
          takings.bySession,
          takings.byRider,
          takings.byWay,
          takings.byDay,
        ]) {
          expect(sumOf(rows)).toBe(came - went);
          expect(rows.reduce((sum, row) => sum + row.refunded, 0)).toBe(went);
        }
        expect(takings.net + takings.tax).toBe(takings.gross);
        const inRates = takings.taxes.reduce((sum, { gross }) => sum + gross, 0);
        expect(inRates + takings.facts.reduce((sum, { overpaid }) => sum + overpaid, 0)).toBe(takings.gross);
        for (const { net, tax, gross } of takings.taxes) expect(net + tax).toBe(gross);
      }),
      { numRuns: 300 },
    );
  });
});

describe('for the accountant', () => {
  const facts = [placed('o1', [line(1200, [1]), print(1070, 3)]), paid('o1', 2270), refunded('o1', 1200)];
  const paper = (key: string, kind: PaperNumber['kind'], number: string): PaperNumber => ({
    order: 'o1' as OrderId,
    key: key as FactKey,
    kind,
    number,
  });
  const papers = [paper(facts[1]!.key, 'invoice', 'T2026-7'), paper(facts[2]!.key, 'credit-note', 'TC2026-1')];
  const { takings } = takingsOf({ ...known, facts, papers });
  const table = accountantTable([{ meeting: 'Ebbstone', takings }]);
  const column = (name: string) => table.rows.map((row) => Object.values(row[table.header.indexOf(name)]!)[0]);

  it('OG26: there is one line a fact with ISO dates, decimals and minor units', () => {
    expect(table.rows.length).toBe(2);
    expect(column('date')).toEqual(['2026-09-20T12:01:00.000Z', '2026-09-20T12:05:00.000Z']);
    expect(column('gross')).toEqual(['22.70', '-12.00']);
    expect(column('gross in minor units')).toEqual(['2270', '-1200']);
    expect(column('currency')).toEqual(['GBP', 'GBP']);
  });

  it('OG26: beside each line stands its paper: the invoice, of each part that was paid, or the refund’s credit note', () => {
    expect(column('paper')).toEqual(['T2026-7', 'TC2026-1']);
    const parts = [placed('o1', [line(1200, [1])]), paid('o1', 500), paid('o1', 700, 2), refunded('o1', 100)];
    const found = takingsOf({ ...known, facts: parts, papers: [paper(parts[2]!.key, 'invoice', 'T2026-8')] });
    expect(found.takings[0]!.facts.map((fact) => fact.paper)).toEqual(['T2026-8', 'T2026-8', null]);
  });

  it('OG26: tax by rate adds up in each line', () => {
    for (const [i, gross] of column('gross').entries()) {
      const parts = ['net at 7 %', 'tax at 7 %', 'net at 20 %', 'tax at 20 %', 'paid over the order'].map((name) =>
        Number(column(name)[i] || 0),
      );
      expect(Math.round(parts.reduce((a, b) => a + b, 0) * 100)).toBe(Math.round(Number(gross) * 100));
    }
  });

  it('OG26: currencies without or with three minor digits are written so (ISO 4217: JPY 0, KWD 3)', () => {
    const of = (currency: string) => {
      const told = [placed('o', [line(1234, [1])], currency), paid('o', 1234)];
      const { rows, header } = accountantTable([
        { meeting: 'm', takings: takingsOf({ ...known, facts: told }).takings },
      ]);
      return Object.values(rows[0]![header.indexOf('gross')]!)[0];
    };
    expect([of('JPY'), of('KWD')]).toEqual(['1234', '1.234']);
  });
});

it('OG28: a chart’s rows have the largest first and what is not known last, named as that', () => {
  const row = (of: string | null, gross: number): TakingsRow => ({
    of,
    gross: minor(gross),
    refunded: minor(0),
    orders: 1,
  });
  const bars = takingsBars([row('a', 100), row(null, 900), row('b', 250)], 'EUR', { nameOf: (of) => of.toUpperCase() });
  expect(bars.map(({ row }) => row.gross)).toEqual([250, 100, 900]);
  expect(bars.map(({ row: _, ...bar }) => bar)).toEqual([
    { label: 'B', amount: 2.5, text: '€2.50', isKnown: true },
    { label: 'A', amount: 1, text: '€1.00', isKnown: true },
    { label: 'not known', amount: 9, text: '€9.00', isKnown: false },
  ]);
});
