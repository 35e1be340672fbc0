/** Baskets nobody thinks of at first, through the service's own pages; sums reckoned by hand. Rules OR1–OR5, OR12, OR13, OR19, OR27, OR40. */
import { afterEach, expect, it } from 'vitest';
import {
  type FactKey,
  type Minor,
  type Offer,
  type OrderId,
  stateOf,
  type Voucher,
} from '../../core/handover/orders/index.js';
import { MEETING, offerOfDay, pictureId, RIDER, type ShopDay, shopDay } from '../testing/shopDay.js';
import { Visitor } from '../testing/visitor.js';
import { tellFact } from './deeds.js';
import { publicApp } from './publicApp.js';

const dayLine = `day:day:${RIDER}:2026-09-19:1`;
const one = (n: number, product = 'one') => `${product}:picture:${pictureId(n)}:1`;
const prints = (count: number) => `paper:print:${pictureId(1)}:${count}`;
const often = { uses: null, expiresAt: null };
const booked = (worth: number, uses: number | null = null): Voucher => {
  return { code: 'B17', kind: 'prepaid', worth: worth as Minor, reference: 'B-17', uses, expiresAt: null };
};
const tenth: Voucher = { code: 'TENTH', kind: 'percent', off: 1000, ...often };

let day: ShopDay;
afterEach(() => day.store.close());
const open = async (vouchers: readonly Voucher[] = [], prices: Partial<Offer['prices']> = {}) => {
  day = await shopDay({ ...offerOfDay, prices: { ...offerOfDay.prices, ...prices } });
  for (const voucher of vouchers) await day.store.write((writes) => writes.putVoucher(MEETING, voucher));
};
const priced = (change: (kind: string) => object) =>
  offerOfDay.prices.products.map((product) => ({ ...product, ...change(product.kind) }));
const stateNow = async (id: OrderId) => stateOf(id, await day.store.factsOf(id));

/** What a rider sees, and what becomes of it; without an order the page that came instead. */
async function basket(lines: readonly string[], code = '') {
  const rider = new Visitor(publicApp(day, { isBehindProxy: false, hosts: [] }));
  await rider.get(`/${MEETING}/rider/${RIDER}`, { 'accept-language': 'en' });
  for (const line of lines) {
    await rider.post(`/${MEETING}/basket`, { do: 'put', line });
    await rider.get(`/${MEETING}/basket`);
  }
  await rider.post(`/${MEETING}/basket`, { do: 'code', code });
  const shown = await rider.get(`/${MEETING}/basket`);
  const form = await rider.get(`/${MEETING}/order`);
  const order = async (way = 'cash') => {
    await rider.get(`/${MEETING}/order`);
    const seen = /name="seen" value="(\d+)"/.exec(form)?.[1] ?? '';
    const typed = { name: 'Someone', mail: 'someone@example.org', address: '1 Paddock Lane', way };
    await rider.post(`/${MEETING}/order`, { ...typed, supply: 'yes', loss: 'yes', seen });
    return rider.location === '' ? rider.html : stateNow(rider.location.replace('/order/', '') as OrderId);
  };
  return { shown, form, order };
}
const ordered = async (...words: Parameters<typeof basket>) => {
  const state = await (await basket(...words)).order();
  if (typeof state === 'string') throw new Error(state);
  return state;
};
const tell = (id: OrderId, key: string, fact: Parameters<typeof tellFact>[1]['fact']) =>
  tellFact(day, { order: id, key: key as FactKey, by: 'photographer', fact });
const usedUp = 'That code was used up';

it('1: a voucher over the total leaves nothing to pay and no debt: no way to pay is asked for, no paper made', async () => {
  await open([{ code: 'SIXTY', kind: 'amount', off: 6000 as Minor, uses: 1, expiresAt: null }]);
  const { form } = await basket([dayLine], 'SIXTY');
  expect(form).toContain('Order, nothing to pay');
  expect(form).not.toContain('type="radio"');
  const state = await ordered([dayLine], 'SIXTY');
  expect(state).toMatchObject({
    standing: 'paid',
    owed: 0,
    paid: 0,
    placed: { way: 'nothing-to-pay', totals: { off: 4500 } },
  });
  expect(await day.store.papersOf(state.id)).toEqual([]);
  const anew = new Visitor(publicApp(day, { isBehindProxy: false, hosts: [] }));
  expect(await anew.get(`/order/${state.id}`, { 'accept-language': 'en' })).toMatch(/Taken off<\/dt><dd>-£45\.00/);
  expect((await basket([one(1)], 'SIXTY')).shown).toContain(usedUp);
});

it('2: what costs nothing is ordered as anything else, alone and beside what costs', async () => {
  await open([], { products: priced((kind) => (kind === 'picture' ? { price: 0 } : {})) });
  expect(await ordered([one(1)])).toMatchObject({ standing: 'paid', owed: 0 });
  expect(await ordered([one(1), prints(2)])).toMatchObject({ standing: 'waiting-for-money', owed: 3000 });
});

it('3: a prepaid client with extra prints pays for the prints; the receipt says both payments', async () => {
  await open([booked(5000)]);
  for (const said of ['£75.00', 'Paid before', '£50.00'])
    expect((await basket([dayLine, prints(2)], 'B17')).shown).toContain(said);
  const { id, ...state } = await ordered([dayLine, prints(2)], 'B17');
  expect(state).toMatchObject({ paid: 5000, owed: 2500, placed: { way: 'cash' } });
  await tell(id, 'c', { kind: 'paid', amount: 2500 as Minor, way: 'cash', reference: 'tin' });
  const payments = [
    { amount: 5000, way: 'prepaid', reference: 'B-17' },
    { amount: 2500, way: 'cash', reference: 'tin' },
  ];
  expect(await day.store.papersOf(id)).toMatchObject([{ body: { totals: { toPay: 7500 }, way: 'cash', payments } }]);
});

it('4: what a prepaid client did not need stays on the code, and none of it is spent twice', async () => {
  await open([booked(5000)]);
  expect(await ordered([dayLine], 'B17')).toMatchObject({ paid: 4500, standing: 'paid' });
  const second = await ordered([one(1)], 'B17');
  expect(second).toMatchObject({ paid: 500, owed: 700 });
  expect((await basket([one(2)], 'B17')).shown).toContain(usedUp);
  // Ended unpaid, its part is on the code again and not in the order.
  await tell(second.id, 'x', { kind: 'cancelled', by: 'photographer' });
  expect(await stateNow(second.id)).toMatchObject({ paid: 500, refunded: 500, toGiveBack: 0 });
  expect(await ordered([one(2)], 'B17')).toMatchObject({ paid: 500, owed: 700 });
});

it('5: the organiser has paid: own use is free, press and paper are not, and tax is of what is paid', async () => {
  await open([], { isPaidByOrganiser: true });
  const taxes = [{ rate: 2000, net: 8750, tax: 1750, gross: 10_500 }];
  const { placed } = await ordered([dayLine, one(1, 'press'), prints(1)]);
  expect(placed!.totals).toMatchObject({ toPay: 10_500, taxes });
});

it('6: where there is nothing to pay a code is not used up by it', async () => {
  await open([booked(5000, 1), { ...tenth, uses: 1 }], { isPaidByOrganiser: true });
  for (const code of ['B17', 'TENTH']) expect((await ordered([dayLine], code)).placed!.voucher).toBeNull();
  expect(await ordered([prints(1)], 'TENTH')).toMatchObject({ owed: 1350 });
  expect(await ordered([prints(1)], 'B17')).toMatchObject({ owed: 0, paid: 1500 });
});

it('7: tax on top at two rates under a voucher: 999 at 19 % and 3 × 333 at 7 %, a tenth off', async () => {
  const products = priced((kind) => (kind === 'print' ? { price: 333, taxRate: 700 } : { price: 999, taxRate: 1900 }));
  await open([tenth], { currency: 'EUR', includesTax: false, products });
  const { form } = await basket([one(1), prints(3)], 'TENTH');
  for (const said of ['-€2.00', '€20.32', '€1.71', '€0.63']) expect(form).toContain(said);
  const taxes = [
    { rate: 700, net: 899, tax: 63, gross: 962 },
    { rate: 1900, net: 899, tax: 171, gross: 1070 },
  ];
  const { placed } = await ordered([one(1), prints(3)], 'TENTH');
  expect(placed!.totals).toEqual({ currency: 'EUR', asPriced: 1998, off: 200, toPay: 2032, taxes });
});

it.each([
  ['JPY', '¥4,500', '¥409'],
  ['KWD', 'KWD\u00a04.500', 'KWD\u00a00.409'],
])('8: %s has another number of minor units', async (currency, price, tax) => {
  await open([], { currency, products: priced(() => ({ taxRate: 1000 })) });
  for (const said of [price, tax]) expect((await basket([dayLine])).form).toContain(said);
});

it('9: 99 prints and no more, nor two of a day, from a basket that was tampered with', async () => {
  await open();
  expect(await ordered([prints(99)])).toMatchObject({ owed: 148_500 });
  expect((await basket([prints(100), dayLine.replace(/1$/, '2')])).shown).toContain('Nothing is in the basket');
});

it('10: of two tabs with one prepaid code the later is asked how to pay', async () => {
  await open([booked(4500)]);
  const [first, second] = [await basket([dayLine], 'B17'), await basket([dayLine], 'B17')];
  expect(await first.order()).toMatchObject({ paid: 4500, standing: 'paid' });
  expect(await second.order('')).toContain('<li>how to pay');
  expect(await day.store.orders()).toHaveLength(1);
});

it('OR13: a code that can be none, mistyped with a space or a dot, is said at once', async () => {
  await open([tenth]);
  const rider = new Visitor(publicApp(day, { isBehindProxy: false, hosts: [] }));
  await rider.get(`/${MEETING}/rider/${RIDER}`, { 'accept-language': 'en' });
  await rider.post(`/${MEETING}/basket`, { do: 'put', line: dayLine });
  for (const [code, said] of [
    ['TEN TH', true],
    ['tenth.', true],
    ['', false],
    [' tenth ', false],
  ] as const) {
    await rider.get(`/${MEETING}/basket`);
    await rider.post(`/${MEETING}/basket`, { do: 'code', code });
    expect(rider.html.includes('That code is not known here.')).toBe(said);
  }
});

it('OR40: a picture its day holds already is said; of another size, other terms or on paper it is not', async () => {
  await open();
  const said = 'in another line of this basket already';
  expect((await basket([one(1), dayLine])).shown.split(said)).toHaveLength(2);
  for (const lines of [
    [one(1), one(2)],
    [one(1, 'press'), dayLine],
    [prints(1), dayLine],
    [one(3), dayLine],
  ])
    expect((await basket(lines)).shown).not.toContain(said);
  expect((await basket([dayLine, `weekend:weekend:${RIDER}:1`])).shown).toContain(said);
  const small = priced((kind) => (kind === 'day' ? { longEdgePx: 2000 } : {}));
  await open([], { products: small });
  expect((await basket([one(1), dayLine])).shown).not.toContain(said);
});
