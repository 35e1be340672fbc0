/** Rules OR1–OR14 of docs/rules/orders.md. */
import { data } from 'currency-codes';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { epochMsOf } from '../../units.js';
import {
  decimalText,
  type Fact,
  type FactKey,
  type Minor,
  minorDigits,
  minorOf,
  moneyText,
  type Offer,
  OrderError,
  type OrderId,
  parseMoney,
  priceBasket,
  type StoredFact,
  stateOf,
  totalsOf,
  type Voucher,
} from './index.js';
import { dealOut } from './money.js';

const minor = (value: number) => minorOf(value, 'test');
const gbp = { currency: 'GBP', includesTax: true } as const;
const noLimits = { uses: null, expiresAt: null } as const;

const lineArb = fc.record({
  unitPrice: fc.integer({ min: 0, max: 1_000_000 }).map(minor),
  quantity: fc.integer({ min: 1, max: 99 }),
  taxRate: fc.constantFrom(0, 500, 550, 700, 1900, 2000, 2550),
});
const voucherArb: fc.Arbitrary<Voucher | null> = fc.oneof(
  fc.constant(null),
  fc.integer({ min: 0, max: 12_000 }).map((off): Voucher => ({ code: 'A', kind: 'percent', off, ...noLimits })),
  fc
    .integer({ min: 0, max: 2_000_000 })
    .map((off): Voucher => ({ code: 'A', kind: 'amount', off: minor(off), ...noLimits })),
);

describe('money', () => {
  it('OR1: minor digits are those of ISO 4217 list one (as npm currency-codes carries it), unlike CLDR’s', () => {
    // Others in X are metals, units of account and codes for testing.
    const isMoney = (code: string) => !code.startsWith('X') || ['XAF', 'XCD', 'XOF', 'XPF'].includes(code);
    const known = data.filter(({ code }) => isMoney(code) && Intl.supportedValuesOf('currency').includes(code));
    expect(known.length).toBeGreaterThan(140);
    for (const { code, digits } of known) expect([code, minorDigits(code)]).toEqual([code, digits]);
    expect(minorDigits('HUF')).toBe(2);
    expect(moneyText(minor(1250), 'HUF', 'en')).toContain('12.50');
  });

  it('OR1: a currency that is none, and an amount that is no whole number, are refused in a sentence', () => {
    expect(() => minorDigits('EURO')).toThrow(OrderError);
    expect(() => minorDigits('QQQ')).toThrow('"QQQ"');
    expect(() => minor(12.5)).toThrow('Say 1250 for 12.50');
    expect(() => minor(Number.NaN)).toThrow('NaN');
  });

  it('OR1: what is written is read again, in every currency', () => {
    const currency = fc.constantFrom('GBP', 'JPY', 'KWD', 'EUR');
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 99_999_999 }), currency, (amount, code) => {
        expect(parseMoney(decimalText(minor(amount), code), code)).toBe(amount);
      }),
    );
    expect(decimalText(minor(5), 'GBP')).toBe('0.05');
    expect(decimalText(minor(-1234), 'KWD')).toBe('-1.234');
    expect(parseMoney('12,5', 'EUR')).toBe(1250);
    expect(parseMoney('12.505', 'EUR')).toBeNull();
    expect(parseMoney('12.5', 'JPY')).toBeNull();
  });

  it('OR1: people read it as their language writes it', () => {
    expect(moneyText(minor(123_450), 'EUR', 'de')).toBe('1.234,50\u00A0€');
    expect(moneyText(minor(4500), 'GBP', 'en-GB')).toBe('£45.00');
  });

  it('OR3: parts dealt out add up to the amount, and none is a unit off its share', () => {
    const weights = fc.array(fc.integer({ min: 0, max: 1_000_000 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000 }), weights, (amount, given) => {
        const sum = given.reduce((a, b) => a + b, 0);
        const parts = dealOut(minor(amount), given);
        expect(parts.reduce((a, b) => a + b, 0)).toBe(sum === 0 ? 0 : amount);
        for (const [i, part] of parts.entries())
          if (sum > 0) expect(Math.abs(part - (amount * given[i]!) / sum)).toBeLessThan(1);
      }),
    );
  });
});

describe('totals', () => {
  it('OR2: tax in a price is taken out of it, tax on top is put on it, half a unit rounded up', () => {
    const line = { unitPrice: minor(1000), quantity: 1, taxRate: 2000 };
    expect(totalsOf([line], gbp)).toMatchObject({ toPay: 1000, taxes: [{ net: 833, tax: 167, gross: 1000 }] });
    expect(totalsOf([line], { ...gbp, includesTax: false })).toMatchObject({
      toPay: 1200,
      taxes: [{ net: 1000, tax: 200 }],
    });
    // 50 at 1 % is half a unit.
    const half = { unitPrice: minor(50), quantity: 1, taxRate: 100 };
    expect(totalsOf([half], { ...gbp, includesTax: false }).toPay).toBe(51);
  });

  it('OR2: tax is reckoned once a rate: three times 0.99 at 20 % is one sum, not three', () => {
    const line = { unitPrice: minor(99), quantity: 1, taxRate: 2000 };
    expect(totalsOf([line, line, line], gbp).taxes).toEqual([{ rate: 2000, net: 247, tax: 50, gross: 297 }]);
  });

  it('OR3: whatever the lines and the voucher, the parts add up and nothing is negative', () => {
    fc.assert(
      fc.property(fc.array(lineArb, { maxLength: 12 }), voucherArb, fc.boolean(), (lines, voucher, includesTax) => {
        const totals = totalsOf(lines, { currency: 'EUR', includesTax }, voucher);
        const gross = totals.taxes.reduce((sum, part) => sum + part.gross, 0);
        const net = totals.taxes.reduce((sum, part) => sum + part.net, 0);
        expect(totals.asPriced).toBe(lines.reduce((sum, line) => sum + line.unitPrice * line.quantity, 0));
        expect(gross).toBe(totals.toPay);
        expect(includesTax ? totals.toPay : net).toBe(totals.asPriced - totals.off);
        for (const part of totals.taxes) {
          expect(part.net + part.tax).toBe(part.gross);
          expect(Math.min(part.net, part.tax, part.gross)).toBeGreaterThanOrEqual(0);
        }
      }),
    );
  });

  it('OR4: the order of the lines changes nothing', () => {
    fc.assert(
      fc.property(fc.array(lineArb, { maxLength: 8 }), voucherArb, (lines, voucher) => {
        expect(totalsOf([...lines].reverse(), gbp, voucher)).toEqual(totalsOf(lines, gbp, voucher));
      }),
    );
  });

  it('OR5: a voucher takes off its share once, and never more than there is', () => {
    const lines = [{ unitPrice: minor(3333), quantity: 1, taxRate: 2000 }];
    const third: Voucher = { code: 'A', kind: 'percent', off: 3333, ...noLimits };
    expect(totalsOf(lines, gbp, third)).toMatchObject({ off: 1111, toPay: 2222 });
    expect(totalsOf(lines, gbp, { code: 'A', kind: 'amount', off: minor(9999), ...noLimits })).toMatchObject({
      toPay: 0,
      off: 3333,
    });
  });
});

const id = '0'.repeat(32) as OrderId;
const picture = (n: number) => n.toString(16).padStart(32, '0');
const placed: Fact = {
  kind: 'placed',
  meeting: 'm',
  edition: 'e',
  lines: [
    {
      product: 'day',
      asked: { kind: 'day', rider: 'r', day: '2026-09-19' },
      quantity: 1,
      name: 'Your day',
      unitPrice: minor(4500),
      taxRate: 2000,
      licence: 'personal',
      longEdgePx: null,
      pictures: [picture(1), picture(2)],
    },
  ],
  totals: totalsOf([{ unitPrice: minor(4500), quantity: 1, taxRate: 2000 }], gbp),
  voucher: null,
  way: 'provider',
  contact: { name: 'A', mail: 'a@example.org', address: null },
  consent: null,
  language: 'en',
};
const paid = (amount: number): Fact => ({ kind: 'paid', amount: minor(amount), way: 'provider', reference: 'x' });
const refunded = (amount: number): Fact => ({
  kind: 'refunded',
  amount: minor(amount),
  why: 'kindness',
  reference: 'x',
});
let keys = 0;
const told = (fact: Fact, key = `k${keys++}`, at = 1): StoredFact => ({
  order: id,
  key: key as FactKey,
  at: epochMsOf(at),
  by: 'service',
  fact,
});

describe('the state of an order', () => {
  it('OR6: the same whatever order the facts came in and however often each was told', () => {
    const factArb: fc.Arbitrary<Fact> = fc.oneof(
      fc.constant(placed),
      fc.integer({ min: 1, max: 5000 }).map(paid),
      fc.integer({ min: 1, max: 5000 }).map(refunded),
      fc.constant<Fact>({ kind: 'cancelled', by: 'buyer' }),
      fc
        .integer({ min: 1, max: 3 })
        .map((n): Fact => ({ kind: 'withdrawn', pictures: [picture(n)], why: 'taken-down' })),
      fc
        .integer({ min: 1, max: 4 })
        .map((generation): Fact => ({ kind: 'link-made', generation, expiresAt: epochMsOf(generation) })),
      fc.integer({ min: 1, max: 4 }).map((generation): Fact => ({ kind: 'link-revoked', generation })),
    );
    const storedArb = fc.record({ fact: factArb, key: fc.integer({ max: 9, min: 0 }), at: fc.nat(5) });
    fc.assert(
      fc.property(fc.array(storedArb, { maxLength: 10 }), fc.nat(), (some, shift) => {
        // One key is one fact, wherever it is told.
        const byKey = new Map(some.map((one) => [one.key, told(one.fact, `k${one.key}`, one.at)]));
        const facts = some.map((one) => byKey.get(one.key)!);
        const turn = facts.length === 0 ? 0 : shift % facts.length;
        const turned = [...facts.slice(turn), ...facts.slice(0, turn), ...facts].reverse();
        expect(stateOf(id, turned)).toEqual(stateOf(id, facts));
      }),
    );
  });

  it('OR7: paid when the money is there, in parts too; a refund told before its payment is no loss', () => {
    expect(stateOf(id, [told(placed), told(paid(4000))])).toMatchObject({ standing: 'waiting-for-money', owed: 500 });
    expect(stateOf(id, [told(placed), told(paid(4000)), told(paid(500))])).toMatchObject({ standing: 'paid', owed: 0 });
    expect(stateOf(id, [told(placed), told(refunded(4500))]).standing).toBe('refunded');
    expect(stateOf(id, [told(refunded(500)), told(placed), told(paid(4500))])).toMatchObject({
      standing: 'paid',
      refunded: 500,
    });
    expect(stateOf(id, [told(paid(4500))]).standing).toBe('unknown');
  });

  it('OR8: what was withdrawn is given no longer, whatever comes after', () => {
    const down: Fact = { kind: 'withdrawn', pictures: [picture(1)], why: 'taken-down' };
    expect(stateOf(id, [told(down), told(placed), told(paid(4500))]).pictures).toEqual([picture(2)]);
  });

  it('OR9: a revoked link stays revoked until a newer one is made; after the contact is removed the money stays', () => {
    const made = (generation: number): Fact => ({ kind: 'link-made', generation, expiresAt: epochMsOf(9) });
    const revoked: Fact = { kind: 'link-revoked', generation: 1 };
    expect(stateOf(id, [told(made(1)), told(revoked)]).link).toMatchObject({ generation: 1, isRevoked: true });
    expect(stateOf(id, [told(made(1)), told(revoked), told(made(2))]).link).toMatchObject({
      generation: 2,
      isRevoked: false,
    });
    const bare = stateOf(id, [told(placed), told(paid(4500)), told({ kind: 'contact-removed' })]);
    expect(bare.placed?.contact).toEqual({ name: '', mail: '', address: null });
    expect(bare.paid).toBe(4500);
  });
});

const offer: Offer = {
  v: 1,
  meeting: 'm',
  edition: 'e',
  title: 'A day',
  firstDay: '2026-09-19',
  lastDay: '2026-09-20',
  gallery: null,
  seller: { name: 'A', contact: null, lines: [] },
  prices: {
    currency: 'GBP',
    includesTax: true,
    isPaidByOrganiser: false,
    products: [
      { key: 'one', kind: 'picture', name: 'A picture', price: minor(1200), taxRate: 2000, licence: 'personal' },
      { key: 'press', kind: 'picture', name: 'For print', price: minor(9000), taxRate: 2000, licence: 'press' },
      { key: 'day', kind: 'day', name: 'Your day', price: minor(4500), taxRate: 2000, licence: 'personal' },
      { key: 'all', kind: 'weekend', name: 'Your weekend', price: minor(7000), taxRate: 2000, licence: 'personal' },
      { key: 'paper', kind: 'print', name: 'On paper', price: minor(1500), taxRate: 2000, licence: 'personal' },
    ],
  },
  pictures: [1, 2, 3, 4].map((n) => ({ id: picture(n), day: n < 3 ? '2026-09-19' : '2026-09-20' })),
  riders: [{ publicId: 'r', livery: 'red', pictures: [1, 2, 3].map(picture), isJoinedByGuess: false }],
  withdrawn: [picture(2)],
};
const price = (
  lines: Parameters<typeof priceBasket>[0]['lines'],
  of: Offer = offer,
  known: Parameters<typeof priceBasket>[2] = () => null,
  code: string | null = null,
) => priceBasket({ lines, voucherCode: code }, of, known, epochMsOf(100));

describe('a basket', () => {
  it('OR10: a day is the rider’s pictures of that day, a weekend all of them, and none that was taken down', () => {
    const day = price([{ product: 'day', asked: { kind: 'day', rider: 'r', day: '2026-09-19' }, quantity: 1 }]);
    expect(day.lines[0]?.pictures).toEqual([picture(1)]);
    const all = price([{ product: 'all', asked: { kind: 'weekend', rider: 'r' }, quantity: 1 }]);
    expect(all.lines[0]?.pictures).toEqual([picture(1), picture(3)]);
    const down = price([{ product: 'one', asked: { kind: 'picture', picture: picture(2) }, quantity: 1 }]);
    expect(down).toMatchObject({ lines: [], troubles: [{ is: 'nothing-there' }], totals: { toPay: 0 } });
  });

  it('OR11: what cannot be had is said line by line, and the rest goes on', () => {
    const one = { product: 'one', asked: { kind: 'picture', picture: picture(1) }, quantity: 1 } as const;
    const basket = price([
      one,
      one,
      { ...one, product: 'day' },
      { ...one, product: 'nothing-known' },
      { product: 'day', asked: { kind: 'day', rider: 'nobody', day: '2026-09-19' }, quantity: 1 },
      { ...one, asked: { kind: 'picture', picture: picture(3) }, quantity: 2 },
      { product: 'paper', asked: { kind: 'print', picture: picture(1) }, quantity: 1.5 },
    ]);
    expect(basket.troubles.map(({ is }) => is)).toEqual([
      'twice',
      'not-sold',
      'not-sold',
      'nothing-there',
      'wrong-count',
      'wrong-count',
    ]);
    expect(basket.totals.toPay).toBe(1200);
  });

  it('OR13: a voucher that is unknown, used up or too late is said and takes nothing off', () => {
    const lines = [{ product: 'one', asked: { kind: 'picture', picture: picture(1) }, quantity: 1 }] as const;
    const half = { code: 'HALF', kind: 'percent', off: 5000, uses: 1, expiresAt: epochMsOf(100) } as const;
    expect(price(lines, offer, () => null, 'HALF').voucher?.is).toBe('unknown');
    expect(price(lines, offer, () => ({ voucher: half, used: 1 }), 'HALF').voucher?.is).toBe('used-up');
    expect(
      price(lines, offer, () => ({ voucher: { ...half, expiresAt: epochMsOf(99) }, used: 0 }), 'HALF').voucher?.is,
    ).toBe('too-late');
    expect(price(lines, offer, () => ({ voucher: half, used: 0 }), 'HALF').totals.toPay).toBe(600);
    expect(price(lines, offer, () => ({ voucher: half, used: 1 }), 'HALF').totals.toPay).toBe(1200);
  });

  it('OR14: a price that changes later changes no order: a line holds all it was ordered at', () => {
    const [line] = price([{ product: 'one', asked: { kind: 'picture', picture: picture(1) }, quantity: 1 }]).lines;
    expect(line).toEqual({
      product: 'one',
      asked: { kind: 'picture', picture: picture(1) },
      quantity: 1,
      name: 'A picture',
      unitPrice: 1200 as Minor,
      taxRate: 2000,
      licence: 'personal',
      longEdgePx: null,
      pictures: [picture(1)],
    });
  });
});
