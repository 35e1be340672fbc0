/** Rules LW3, LW4 and LW21 of docs/rules/law.md, through the service's own pages. */
import { beforeEach, describe, expect, it } from 'vitest';
import { consentTroubles, withdrawableOf } from '../../core/handover/law/index.js';
import { type Fact, type FactKey, type Minor, type OrderId, stateOf } from '../../core/handover/orders/index.js';
import { momentText } from '../handing/words/index.js';
import { LANGUAGES, wordsOf } from '../pages/words/index.js';
import { lawWords } from '../pages/words/law.js';
import { MEETING, pictureId, RIDER, type ShopDay, shopDay } from '../testing/shopDay.js';
import { Visitor } from '../testing/visitor.js';
import { tellFact } from './deeds.js';
import { publicApp } from './publicApp.js';
import { referenceOf } from './reference.js';

const DAY_MS = 86_400_000;
const dayLine = `day:day:${RIDER}:2026-09-19:1`;
const printLine = `paper:print:${pictureId(1)}:1`;
let day: ShopDay;
let rider: Visitor;
const visitor = () => new Visitor(publicApp(day, { isBehindProxy: false, hosts: [] }));
beforeEach(async () => {
  day = await shopDay();
  rider = visitor();
  return () => day.store.close();
});

async function order(lines: readonly string[], language = 'en'): Promise<OrderId> {
  await rider.get(`/${MEETING}?language=${language}`);
  for (const line of lines) {
    await rider.get(`/${MEETING}/rider/${RIDER}`);
    await rider.post(`/${MEETING}/basket`, { do: 'put', line });
  }
  await rider.get(`/${MEETING}/order`);
  const seen = /name="seen" value="(\d+)"/.exec(rider.html)![1]!;
  const typed = { name: 'Someone <b>', mail: 'someone@example.org', address: '1 Paddock Lane', way: 'cash' };
  await rider.post(`/${MEETING}/order`, { ...typed, supply: 'yes', loss: 'yes', seen });
  return rider.location.replace('/order/', '') as OrderId;
}
const state = async (id: OrderId) => stateOf(id, await day.store.factsOf(id));
const tell = (id: OrderId, fact: Fact) =>
  tellFact(day, { order: id, key: `test ${JSON.stringify(fact)}` as FactKey, by: 'photographer', fact });
const came = (id: OrderId, amount: number) =>
  tell(id, { kind: 'paid', amount: amount as Minor, way: 'cash', reference: '' });
const withdraw = async (id: OrderId, ...parts: readonly string[]) => {
  await rider.get(`/order/${id}`);
  await rider.get(`/order/${id}/withdraw`);
  const { status, html } = rider;
  await rider.post(`/order/${id}/withdraw`, Object.fromEntries(parts.map((part) => [part, 'yes'])));
  return { status, html };
};
const prints = { kind: 'handed-over', what: 'print', picture: pictureId(1), bytes: 0 } as const;

it.each(LANGUAGES)(
  'LW3, LW21 in %s: two ticks kept with words and moment; the function, its confirming step and what is to be kept',
  async (language) => {
    const words = lawWords[language];
    const id = await order([dayLine], language);
    const { consent, ...placed } = (await state(id)).placed!;
    expect(consentTroubles({ ...placed, consent })).toEqual([]);
    const at = day.now();
    const { consentSupply, consentLoss } = wordsOf[language];
    expect(consent).toEqual({
      immediateSupply: { at, words: consentSupply },
      lossOfCancellation: { at, words: consentLoss },
    });
    await came(id, 4500);
    const page = await rider.get(`/order/${id}`);
    expect(page).toContain(`<a href="/order/${id}/withdraw">${words.here}</a>`);
    expect(page.includes(lawWords.ar.paperLanguage!)).toBe(language === 'ar');
    const { html } = await withdraw(id, 'downloads');
    for (const known of [
      `<button class="strong">${words.confirm}<`,
      'Someone &lt;b&gt;',
      'someone@example.org',
      referenceOf(id),
    ])
      expect(html).toContain(known);
    const withdrawn = { contractWithdrawn: { at, parts: ['downloads'] }, toGiveBack: 4500, pictures: [] };
    expect(await state(id)).toMatchObject(withdrawn);
    expect(await rider.get(`/order/${id}`)).not.toContain(words.here);
    expect(rider.html).toContain(words.keep);
    const kept = await rider.get(`/order/${id}/withdrawal.txt`);
    for (const said of [momentText(at, language), words.part.downloads, 'Someone <b>', words.goesBack])
      expect(kept).toContain(said);
  },
);

describe('LW21: withdrawing from the contract', () => {
  it('of prints and files each by itself; the rest of the order stands, and the money adds up', async () => {
    const id = await order([dayLine, printLine]);
    await came(id, 6000);
    await withdraw(id);
    expect((await state(id)).contractWithdrawn).toBeNull();
    for (const _ of [1, 2]) await withdraw(id, 'prints', 'nonsense');
    const rest = { owed: 0, standing: 'paid', pictures: [1, 2].map(pictureId) };
    expect(await state(id)).toMatchObject({ ...rest, toGiveBack: 1500 });
    const back = (amount: number) =>
      tell(id, { kind: 'refunded', amount: amount as Minor, why: 'cancelled', reference: '' });
    expect(await back(1500)).toMatchObject({ ...rest, toGiveBack: 0 });
    await withdraw(id, 'downloads');
    expect(await state(id)).toMatchObject({ toGiveBack: 4500, pictures: [] });
    expect(await back(4500)).toMatchObject({ toGiveBack: 0, standing: 'refunded' });
    const papers = (await day.store.papersOf(id)).map(({ body }) => body.totals.toPay);
    expect(papers.sort((a, b) => a - b)).toEqual([1500, 4500, 6000]);
  });

  it('of what nobody paid for ends the order; money that comes after all is to go back', async () => {
    const id = await order([dayLine, printLine]);
    await withdraw(id, 'prints', 'downloads');
    expect(await state(id)).toMatchObject({ standing: 'cancelled', owed: 0, toGiveBack: 0 });
    expect(await came(id, 6000)).toMatchObject({ standing: 'cancelled', toGiveBack: 6000 });
  });

  it('ends for files after 14 days, for prints 14 days after they were handed over; weekends move it to Monday', async () => {
    const id = await order([dayLine, printLine]);
    await came(id, 6000);
    const may = async () => withdrawableOf(await state(id), day.now()).map(({ part, until }) => [part, until]);
    // Ordered on Sunday, the 20th.
    expect(await may()).toEqual([
      ['downloads', Date.parse('2026-10-05T23:59:59.999Z')],
      ['prints', null],
    ]);
    day.turnClock(16 * DAY_MS);
    expect(await may()).toEqual([['prints', null]]);
    await tell(id, prints);
    expect(await may()).toEqual([['prints', Date.parse('2026-10-20T23:59:59.999Z')]]);
    expect(await rider.get(`/order/${id}`)).toContain('20 October 2026');
    day.turnClock(15 * DAY_MS);
    expect(await may()).toEqual([]);
    expect((await withdraw(id, 'prints', 'downloads')).status).toBe(303);
    expect((await state(id)).contractWithdrawn).toBeNull();
  });

  it('is nobody’s but who has the order’s form; prints alone need no ticks and are told of this right before', async () => {
    await rider.get(`/${MEETING}?language=en`);
    await rider.get(`/${MEETING}/rider/${RIDER}`);
    await rider.post(`/${MEETING}/basket`, { do: 'put', line: printLine });
    const form = await rider.get(`/${MEETING}/order`);
    expect([form.includes(lawWords.en.prints), form.includes('checkbox')]).toEqual([true, false]);
    const id = await order([printLine]);
    expect((await state(id)).placed!.consent).toBeNull();
    await visitor().post(`/order/${id}/withdraw`, { prints: 'yes' });
    expect((await state(id)).contractWithdrawn).toBeNull();
    expect(await rider.get(`/order/${id}/withdrawal.txt`)).toContain('There is nothing here');
    await expect(tell(await order([dayLine]), prints)).rejects.toThrow('Expected a print of this order');
  });
});
