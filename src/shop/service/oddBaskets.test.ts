/** Baskets nobody thinks of at first, through the service's own pages; sums reckoned by hand. Rules OR1–OR5, OR12, OR19, OR27. */
import { afterEach, describe, expect, it } from 'vitest';
import {
  type FactKey,
  minorOf,
  type Offer,
  type OrderId,
  stateOf,
  type Voucher,
} from '../../core/handover/orders/index.js';
import { MEETING, offerOfDay, pictureId, RIDER, type ShopDay, shopDay } from '../testing/shopDay.js';
import { Visitor } from '../testing/visitor.js';
import { tellFact } from './deeds.js';
import { publicApp } from './publicApp.js';

const minor = (value: number) => minorOf(value, 'test');
const dayLine = `day:day:${RIDER}:2026-09-19:1`;
const one = (n: number, product = 'one') => `${product}:picture:${pictureId(n)}:1`;
const prints = (n: number, count: number) => `paper:print:${pictureId(n)}:${count}`;
type Limits = Pick<Voucher, 'uses' | 'expiresAt'>;
const often: Limits = { uses: null, expiresAt: null };
const booked = (worth: number, limits = often): Voucher => ({
  code: 'B17',
  kind: 'prepaid',
  worth: minor(worth),
  reference: 'B-17',
  ...limits,
});

let day: ShopDay;
afterEach(() => day.store.close());
const open = async (prices: Partial<Offer['prices']> = {}, vouchers: readonly Voucher[] = []) => {
  day = await shopDay({ ...offerOfDay, prices: { ...offerOfDay.prices, ...prices } });
  for (const voucher of vouchers) await day.store.write((writes) => writes.putVoucher(MEETING, voucher));
};
const priced = (change: (product: Offer['prices']['products'][0]) => object) =>
  offerOfDay.prices.products.map((product) => ({ ...product, ...change(product) }));

/** What a rider sees on the form, and what becomes of it. */
async function basket(lines: readonly string[], code = '') {
  const rider = new Visitor(publicApp(day, { isBehindProxy: false, hosts: [] }));
  await rider.get(`/${MEETING}/rider/${RIDER}`, { 'accept-language': 'en' });
  for (const line of lines) {
    await rider.post(`/${MEETING}/basket`, { do: 'put', line });
    await rider.get(`/${MEETING}/basket`);
  }
  if (code !== '') await rider.post(`/${MEETING}/basket`, { do: 'code', code });
  const basketPage = await rider.get(`/${MEETING}/basket`);
  const form = await rider.get(`/${MEETING}/order`);
  return {
    basketPage,
    form,
    order: async (way = 'cash') => {
      await rider.get(`/${MEETING}/order`);
      const seen = /name="seen" value="(\d+)"/.exec(form)?.[1] ?? '';
      const typed = { name: 'Someone', mail: 'someone@example.org', address: '1 Paddock Lane', way };
      await rider.post(`/${MEETING}/order`, { ...typed, supply: 'yes', loss: 'yes', seen });
      const id = rider.location.replace('/order/', '') as OrderId;
      const state = id === '' ? null : stateOf(id, await day.store.factsOf(id));
      const papers = id === '' ? [] : await day.store.papersOf(id);
      return { id, state, papers, page: rider.html };
    },
  };
}
const tell = (id: OrderId, key: string, fact: Parameters<typeof tellFact>[1]['fact']) =>
  tellFact(day, { order: id, key: key as FactKey, by: 'photographer', fact });

describe('odd baskets', () => {
  it('1: a voucher over the total leaves nothing to pay and no debt: asked for no way, paid, without a paper', async () => {
    await open({}, [{ code: 'SIXTY', kind: 'amount', off: minor(6000), uses: 1, expiresAt: null }]);
    const { form, order } = await basket([dayLine], 'SIXTY');
    expect(form).toContain('Order, nothing to pay');
    expect(form).not.toContain('type="radio"');
    const { state, papers } = await order();
    expect(state).toMatchObject({ standing: 'paid', owed: 0, paid: 0, toGiveBack: 0 });
    expect(state!.placed).toMatchObject({ way: 'nothing-to-pay', totals: { asPriced: 4500, off: 4500, toPay: 0 } });
    expect(papers).toEqual([]);
    expect((await basket([one(1)], 'SIXTY')).basketPage).toContain('That code was used up');
  });

  it('2: what costs nothing is ordered as anything else, beside what costs', async () => {
    await open({ products: priced(({ key }) => (key === 'one' ? { price: minor(0) } : {})) });
    expect((await (await basket([one(1)])).order()).state).toMatchObject({ standing: 'paid', owed: 0 });
    const { form, order } = await basket([one(1), prints(1, 2)]);
    expect(form).toContain('Free');
    expect((await order()).state).toMatchObject({ owed: 3000, standing: 'waiting-for-money' });
  });

  it('3: a prepaid client with extra prints pays for the prints; the receipt is of all of it', async () => {
    await open({}, [booked(5000)]);
    const { basketPage, order } = await basket([dayLine, prints(1, 2)], 'B17');
    for (const said of ['£75.00', 'Paid before', '£50.00']) expect(basketPage).toContain(said);
    const { id, state } = await order();
    expect(state).toMatchObject({ paid: 5000, owed: 2500, placed: { way: 'cash', voucher: 'B17' } });
    await tell(id, 'c', { kind: 'paid', amount: minor(2500), way: 'cash', reference: 'tin' });
    expect(await day.store.papersOf(id)).toMatchObject([
      {
        body: {
          totals: { toPay: 7500 },
          way: 'cash',
          payments: [
            { amount: 5000, way: 'prepaid', reference: 'B-17' },
            { amount: 2500, way: 'cash', reference: 'tin' },
          ],
        },
      },
    ]);
    expect((await basket([one(1)], 'B17')).basketPage).toContain('That code was used up');
  });

  it('4: what a prepaid client did not need stays on the code, in as many orders as it takes and never more', async () => {
    await open({}, [booked(5000)]);
    expect((await (await basket([dayLine], 'B17')).order()).state).toMatchObject({ paid: 4500, standing: 'paid' });
    const second = await (await basket([one(1)], 'B17')).order();
    expect(second.state).toMatchObject({ paid: 500, owed: 700 });
    expect((await basket([one(2)], 'B17')).basketPage).toContain('That code was used up');
    // Ended unpaid, its part is on the code again and not in the order.
    await tell(second.id, 'x', { kind: 'cancelled', by: 'photographer' });
    expect(stateOf(second.id, await day.store.factsOf(second.id))).toMatchObject({
      paid: 500,
      refunded: 500,
      toGiveBack: 0,
    });
    expect((await (await basket([one(2)], 'B17')).order()).state).toMatchObject({ paid: 500, owed: 700 });
  });

  it('5: the organiser has paid: own use is free, the press and paper are not, and tax is of what is paid', async () => {
    await open({ isPaidByOrganiser: true });
    const { order } = await basket([dayLine, one(1, 'press'), prints(1, 1)]);
    expect((await order()).state!.placed!.totals).toMatchObject({
      toPay: 10_500,
      taxes: [{ rate: 2000, net: 8750, tax: 1750, gross: 10_500 }],
    });
  });

  it('6: where there is nothing to pay a code is not used up by it', async () => {
    const single: Limits = { uses: 1, expiresAt: null };
    await open({ isPaidByOrganiser: true }, [
      booked(5000, single),
      { code: 'TENTH', kind: 'percent', off: 1000, ...single },
    ]);
    for (const code of ['B17', 'TENTH']) {
      const { state } = await (await basket([dayLine], code)).order();
      expect(state!.placed).toMatchObject({ voucher: null, totals: { toPay: 0 } });
    }
    expect((await (await basket([prints(1, 1)], 'TENTH')).order()).state).toMatchObject({ owed: 1350 });
    expect((await (await basket([prints(1, 1)], 'B17')).order()).state).toMatchObject({ owed: 0, paid: 1500 });
  });

  it('7: tax on top at two rates under a voucher in percent: 999 at 19 %, 3 × 333 at 7 %, a tenth off', async () => {
    const products = priced(({ kind }) =>
      kind === 'print' ? { price: minor(333), taxRate: 700 } : { price: minor(999), taxRate: 1900 },
    );
    await open({ currency: 'EUR', includesTax: false, products }, [
      { code: 'TENTH', kind: 'percent', off: 1000, ...often },
    ]);
    const { form, order } = await basket([one(1), prints(1, 3)], 'TENTH');
    for (const said of ['-€2.00', '€20.32', '€1.71', '€0.63']) expect(form).toContain(said);
    expect((await order()).state!.placed!.totals).toEqual({
      currency: 'EUR',
      asPriced: 1998,
      off: 200,
      toPay: 2032,
      taxes: [
        { rate: 700, net: 899, tax: 63, gross: 962 },
        { rate: 1900, net: 899, tax: 171, gross: 1070 },
      ],
    });
  });

  it('8: a currency without minor units, one with three', async () => {
    await open({ currency: 'JPY', products: priced(() => ({ taxRate: 1000 })) });
    const yen = await basket([dayLine]);
    for (const said of ['¥4,500', '¥409']) expect(yen.form).toContain(said);
    expect((await yen.order()).state!.placed!.totals.taxes).toEqual([{ rate: 1000, net: 4091, tax: 409, gross: 4500 }]);
    await day.store.close();
    await open({ currency: 'KWD' });
    expect((await basket([dayLine])).form).toMatch(/KWD\s4\.500/);
  });

  it('9: 99 prints and no more, from the form or from a basket that was tampered with', async () => {
    await open();
    const { order } = await basket([prints(1, 99)]);
    expect((await order()).state).toMatchObject({ owed: 148_500 });
    const more = await basket([prints(1, 100), `day:day:${RIDER}:2026-09-19:2`]);
    expect(more.basketPage).toContain('Nothing is in the basket');
  });

  it('10: of two tabs with one prepaid code the later is shown again what it owes now', async () => {
    await open({}, [booked(4500)]);
    const [first, second] = [await basket([dayLine], 'B17'), await basket([dayLine], 'B17')];
    expect((await first.order()).state).toMatchObject({ paid: 4500, standing: 'paid' });
    const late = await second.order('');
    expect(late.id).toBe('');
    expect(late.page).toContain('<li>how to pay');
    expect(await day.store.orders()).toHaveLength(1);
  });
});
