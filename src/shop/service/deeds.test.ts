/** Rules OR22, OR24–OR26 of docs/rules/orders.md. */
import { beforeEach, describe, expect, it } from 'vitest';
import {
  type Fact,
  type FactKey,
  minorOf,
  type OrderId,
  stateOf,
  type Voucher,
} from '../../core/handover/orders/index.js';
import { epochMsOf } from '../../core/units.js';
import { MEETING, offerOfDay, pictureId, RIDER, type ShopDay, shopDay } from '../testing/shopDay.js';
import { type Placing, placeOrder, tellFact, tellPayment } from './deeds.js';

const minor = (value: number) => minorOf(value, 'test');
const placing: Placing = {
  meeting: MEETING,
  basket: {
    lines: [
      { product: 'day', asked: { kind: 'day', rider: RIDER, day: '2026-09-19' }, quantity: 1 },
      { product: 'one', asked: { kind: 'picture', picture: pictureId(4) }, quantity: 1 },
    ],
    voucherCode: null,
  },
  contact: { name: 'Someone', mail: 'someone@example.org', address: null },
  way: 'provider',
  consent: {
    immediateSupply: { at: epochMsOf(0), words: 'At once.' },
    lossOfCancellation: { at: epochMsOf(0), words: 'I know.' },
  },
  language: 'en',
  formKey: 'f1',
  seenToPay: minor(5700),
};
let day: ShopDay;
beforeEach(async () => {
  day = await shopDay();
  return () => day.store.close();
});

const place = async (change: Partial<Placing> = {}): Promise<OrderId> => {
  const outcome = await placeOrder(day, { ...placing, ...change });
  if (outcome.kind !== 'placed') throw new Error(JSON.stringify(outcome));
  return outcome.order;
};
const state = async (order: OrderId) => stateOf(order, await day.store.factsOf(order));
const event = (order: OrderId, kind: 'paid' | 'refunded', amount: number, reference = 'p1', currency = 'GBP') =>
  ({ kind, order, amount: minor(amount), currency, reference }) as const;
const tell = (order: OrderId, key: string, fact: Fact) =>
  tellFact(day, { order, key: key as FactKey, by: 'photographer', fact });
const voucherOf = async (voucher: Voucher) => day.store.write((writes) => writes.putVoucher(MEETING, voucher));

describe('placing an order', () => {
  it('OR24: sent twice, also at once, it is one order', async () => {
    const [a, b] = await Promise.all([place(), place()]);
    expect(a).toBe(b);
    expect(a).toMatch(/^[0-9a-f]{32}$/);
    expect(await day.store.orders()).toEqual([a]);
    expect(await place({ formKey: 'f2' })).not.toBe(a);
  });

  it('OR24: another total than was seen, or a picture taken down since, orders nothing and shows it again', async () => {
    expect(await placeOrder(day, { ...placing, seenToPay: minor(5699) })).toMatchObject({ kind: 'changed' });
    const without = { ...offerOfDay, withdrawn: [pictureId(4)] };
    await day.store.write((writes) => writes.putOffer(without, day.now()));
    const outcome = await placeOrder(day, placing);
    expect(outcome).toMatchObject({ kind: 'changed', basket: { troubles: [{ is: 'nothing-there' }] } });
    expect(
      await placeOrder(day, { ...placing, basket: { lines: [], voucherCode: null }, seenToPay: minor(0) }),
    ).toMatchObject({ kind: 'changed' });
    expect(await day.store.orders()).toEqual([]);
  });

  it('OR13: of a voucher for one order the second gets none of it; cancelled, it is free again', async () => {
    await voucherOf({ code: 'FREE', kind: 'percent', off: 10_000, uses: 1, expiresAt: null });
    const asked = { basket: { ...placing.basket, voucherCode: 'FREE' }, seenToPay: minor(0) };
    const first = await place(asked);
    expect(await state(first)).toMatchObject({ standing: 'paid', placed: { way: 'nothing-to-pay' } });
    expect(await placeOrder(day, { ...placing, ...asked, formKey: 'f2' })).toMatchObject({
      kind: 'changed',
      basket: { voucher: { is: 'used-up' } },
    });
    await tell(first, 'c', { kind: 'cancelled', by: 'photographer' });
    await place({ ...asked, formKey: 'f3' });
  });
});

describe('money', () => {
  it('OR25: a payment counts once, told under the same webhook again or under another', async () => {
    const order = await place();
    await tellPayment(day, 'w1', 'made-up', event(order, 'paid', 5700));
    await tellPayment(day, 'w1', 'made-up', event(order, 'paid', 5700));
    await tellPayment(day, 'w2', 'made-up', event(order, 'paid', 5700));
    expect(await state(order)).toMatchObject({ paid: 5700, standing: 'paid' });
    expect(await day.store.papersOf(order)).toMatchObject([{ series: 'T2026', number: 1, kind: 'invoice' }]);
  });

  it('OR25: another currency counts nothing, and the webhook may come again', async () => {
    const order = await place();
    await expect(tellPayment(day, 'w1', 'made-up', event(order, 'paid', 5700, 'p1', 'EUR'))).rejects.toThrow('GBP');
    await tellPayment(day, 'w1', 'made-up', event(order, 'paid', 5700));
    expect((await state(order)).paid).toBe(5700);
  });

  it('OR7, OR22: a refund told before its payment counts, and has its credit note once there is an invoice', async () => {
    const order = await place();
    await tellPayment(day, 'w2', 'made-up', event(order, 'refunded', 5700, 'r1'));
    expect(await day.store.papersOf(order)).toEqual([]);
    await tellPayment(day, 'w1', 'made-up', event(order, 'paid', 5700));
    expect((await state(order)).standing).toBe('refunded');
    expect((await day.store.papersOf(order)).map(({ series, number, kind }) => [series, number, kind])).toEqual(
      [
        ['TC2026', 1, 'credit-note'],
        ['T2026', 1, 'invoice'],
      ].sort(),
    );
  });

  it('OR25: a payment of an order nobody placed is kept, and found when it is', async () => {
    const unknown = 'f'.repeat(32) as OrderId;
    await tellPayment(day, 'w1', 'made-up', event(unknown, 'paid', 5700));
    expect((await state(unknown)).standing).toBe('unknown');
  });

  it('OR26: no more is given back than came, and what is paid is not cancelled', async () => {
    const order = await place();
    await tell(order, 'a', { kind: 'paid', amount: minor(5700), way: 'cash', reference: 'tin' });
    const back = (amount: number, key: string) =>
      tell(order, key, { kind: 'refunded', amount: minor(amount), why: 'wrong-rider', reference: '' });
    await expect(tell(order, 'x', { kind: 'cancelled', by: 'buyer' })).rejects.toThrow('Give the money back first');
    await back(5000, 'r1');
    await expect(back(701, 'r2')).rejects.toThrow('at most 700 minor units');
    await back(5000, 'r1');
    await back(700, 'r2');
    expect(await state(order)).toMatchObject({ refunded: 5700, standing: 'refunded' });
    await expect(tell('0'.repeat(32) as OrderId, 'y', { kind: 'cancelled', by: 'buyer' })).rejects.toThrow('none here');
  });
});
