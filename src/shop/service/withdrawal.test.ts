/** Rules LW3, LW4 and LW21 of docs/rules/law.md, through the service's own pages. */
import { beforeEach, describe, expect, it } from 'vitest';
import { consentTroubles, withdrawableOf } from '../../core/handover/law/index.js';
import { type FactKey, minorOf, type OrderId, stateOf } from '../../core/handover/orders/index.js';
import { momentText } from '../handing/words/index.js';
import { LANGUAGES, wordsOf } from '../pages/words/index.js';
import { lawWords } from '../pages/words/law.js';
import { MEETING, offerOfDay, pictureId, RIDER, type ShopDay, shopDay } from '../testing/shopDay.js';
import { Visitor } from '../testing/visitor.js';
import { tellFact } from './deeds.js';
import { publicApp } from './publicApp.js';
import { referenceOf } from './reference.js';

const DAY_MS = 86_400_000;
const dayLine = `day:day:${RIDER}:2026-09-19:1`;
const printLine = `paper:print:${pictureId(1)}:1`;
let day: ShopDay;
let rider: Visitor;
beforeEach(async () => {
  day = await shopDay();
  rider = new Visitor(publicApp(day, { isBehindProxy: false, hosts: [] }));
  return () => day.store.close();
});

async function order(lines: readonly string[], language = 'en'): Promise<OrderId> {
  for (const line of lines) {
    await rider.get(`/${MEETING}/rider/${RIDER}?language=${language}`);
    await rider.post(`/${MEETING}/basket`, { do: 'put', line });
  }
  await rider.get(`/${MEETING}/order`);
  const seen = /name="seen" value="(\d+)"/.exec(rider.html)![1]!;
  const typed = { name: 'Someone <b>', mail: 'someone@example.org', address: '1 Paddock Lane', way: 'cash' };
  await rider.post(`/${MEETING}/order`, { ...typed, supply: 'yes', loss: 'yes', seen });
  return rider.location.replace('/order/', '') as OrderId;
}
const state = async (id: OrderId) => stateOf(id, await day.store.factsOf(id));
const tell = (id: OrderId, fact: Parameters<typeof tellFact>[1]['fact']) =>
  tellFact(day, { order: id, key: `test ${JSON.stringify(fact)}` as FactKey, by: 'photographer', fact });
const paid = async (id: OrderId) =>
  tell(id, { kind: 'paid', amount: (await state(id)).owed, way: 'cash', reference: '' });
const withdraw = async (id: OrderId, fields: Record<string, string>) => {
  await rider.get(`/order/${id}/withdraw`);
  await rider.post(`/order/${id}/withdraw`, fields);
};

describe('LW3: the two ticks', () => {
  it.each(LANGUAGES)(
    'in %s: two, none set before, for files alone, kept with their words and moment',
    async (language) => {
      await rider.get(`/${MEETING}/rider/${RIDER}?language=${language}`);
      await rider.post(`/${MEETING}/basket`, { do: 'put', line: printLine });
      await rider.get(`/${MEETING}/order`);
      expect(rider.html).not.toContain('type="checkbox"');
      expect(rider.html).toContain(lawWords[language].prints);
      await rider.post(`/${MEETING}/basket`, { do: 'out', line: printLine });
      const placed = (await state(await order([dayLine], language))).placed!;
      expect(consentTroubles(placed)).toEqual([]);
      const { consentSupply, consentLoss } = wordsOf[language];
      expect(placed.consent).toEqual({
        immediateSupply: { at: day.now(), words: consentSupply },
        lossOfCancellation: { at: day.now(), words: consentLoss },
      });
      expect(placed.language).toBe(language);
    },
  );
});

describe('LW21: withdrawing from the contract', () => {
  it.each(LANGUAGES)(
    'in %s: a function on the order’s page, its own confirming step, and a confirmation to keep',
    async (language) => {
      const id = await order([dayLine], language);
      await paid(id);
      const words = lawWords[language];
      expect(await rider.get(`/order/${id}`)).toContain(`<a href="/order/${id}/withdraw">${words.here}</a>`);
      const page = await rider.get(`/order/${id}/withdraw`);
      expect(page).toContain(`<button class="strong">${words.confirm}</button>`);
      for (const known of ['Someone &lt;b&gt;', 'someone@example.org', referenceOf(id)]) expect(page).toContain(known);
      expect((await state(id)).contractWithdrawn).toBeNull();
      await rider.post(`/order/${id}/withdraw`, { downloads: 'yes' });
      expect(await state(id)).toMatchObject({
        contractWithdrawn: { at: day.now(), parts: ['downloads'] },
        toGiveBack: 4500,
        pictures: [],
      });
      const after = await rider.get(`/order/${id}`);
      expect(after).not.toContain(words.here);
      expect(after).toContain(words.keep);
      const kept = await rider.get(`/order/${id}/withdrawal.txt`);
      expect(rider.headers.get('content-disposition')).toContain('attachment');
      for (const said of [momentText(day.now(), language), words.part.downloads, 'Someone <b>', words.goesBack])
        expect(kept).toContain(said);
    },
  );

  it('of prints and files together each by itself; the rest of the order stands, and the money adds up', async () => {
    const id = await order([dayLine, printLine]);
    await paid(id);
    await withdraw(id, {});
    expect((await state(id)).contractWithdrawn).toBeNull();
    await withdraw(id, { prints: 'yes', nonsense: 'yes' });
    await withdraw(id, { prints: 'yes' });
    expect(await state(id)).toMatchObject({
      toGiveBack: 1500,
      owed: 0,
      standing: 'paid',
      pictures: [1, 2].map(pictureId),
    });
    await tell(id, { kind: 'refunded', amount: minorOf(1500, ''), why: 'cancelled', reference: '' });
    expect(await state(id)).toMatchObject({ toGiveBack: 0, standing: 'paid' });
    await withdraw(id, { downloads: 'yes' });
    expect(await state(id)).toMatchObject({ toGiveBack: 4500, pictures: [] });
    await tell(id, { kind: 'refunded', amount: minorOf(4500, ''), why: 'cancelled', reference: '' });
    expect(await state(id)).toMatchObject({ toGiveBack: 0, standing: 'refunded' });
    const gross = (await day.store.papersOf(id)).map(({ kind, body }) => [kind, body.totals.toPay]);
    expect(gross.sort()).toEqual([
      ['credit-note', 1500],
      ['credit-note', 4500],
      ['invoice', 6000],
    ]);
  });

  it('of what nobody paid for ends the order; money that comes after all is to go back', async () => {
    const id = await order([dayLine, printLine]);
    await withdraw(id, { prints: 'yes', downloads: 'yes' });
    expect(await state(id)).toMatchObject({ standing: 'cancelled', owed: 0, toGiveBack: 0 });
    await tell(id, { kind: 'paid', amount: minorOf(6000, ''), way: 'transfer', reference: 'late' });
    expect(await state(id)).toMatchObject({ standing: 'cancelled', toGiveBack: 6000 });
  });

  it('ends for files when they were supplied as agreed, or after 14 days; for prints 14 days after they were handed over', async () => {
    const id = await order([dayLine, printLine]);
    await paid(id);
    const may = async () => withdrawableOf(await state(id), day.now()).map(({ part, until }) => [part, until]);
    // Ordered on Sunday, the 20th: the fourteenth day after is a Sunday, so it ends with the Monday.
    const end = Date.parse('2026-10-05T23:59:59.999Z');
    expect(await may()).toEqual([
      ['downloads', end],
      ['prints', null],
    ]);
    day.turnClock(16 * DAY_MS);
    expect(await may()).toEqual([['prints', null]]);
    await withdraw(id, { downloads: 'yes' });
    expect((await state(id)).contractWithdrawn).toBeNull();
    await tell(id, { kind: 'handed-over', what: 'print', picture: pictureId(1), bytes: 0 });
    expect(await may()).toEqual([['prints', Date.parse('2026-10-20T23:59:59.999Z')]]);
    expect(await rider.get(`/order/${id}`)).toContain('20 October 2026');
    day.turnClock(15 * DAY_MS);
    expect(await may()).toEqual([]);
    await rider.get(`/order/${id}/withdraw`);
    expect([rider.status, rider.location]).toEqual([303, `/order/${id}`]);
    await rider.get(`/order/${id}`);
    await rider.post(`/order/${id}/withdraw`, { prints: 'yes' });
    expect((await state(id)).contractWithdrawn).toBeNull();
  });

  it('is nobody’s but who has the order’s address and form; and prints are handed over only where they were ordered', async () => {
    const id = await order([dayLine]);
    await new Visitor(publicApp(day, { isBehindProxy: false, hosts: [] })).post(`/order/${id}/withdraw`, {
      downloads: 'yes',
    });
    expect((await state(id)).contractWithdrawn).toBeNull();
    expect(await rider.get(`/order/${id}/withdrawal.txt`)).toContain('There is nothing here');
    const print = { kind: 'handed-over', what: 'print', picture: pictureId(1), bytes: 0 } as const;
    await expect(tell(id, print)).rejects.toThrow('Expected a print of this order');
  });

  it('what is offered names whom it is for, with the terms behind it', async () => {
    const own = { ...offerOfDay, credit: 'Quill', terms: { press: 'Ask {contact}, name {credit}.' } };
    await day.store.write((writes) => writes.putOffer(own, day.now()));
    const page = await rider.get(`/${MEETING}/picture/${pictureId(1)}`, { 'accept-language': 'en' });
    expect(page).toMatch(/One picture for the press<\/bdi> <b>£90\.00<\/b> <span class="quiet">for the press</);
    expect(page.match(/Print, 30 × 20 cm<\/bdi> <b>£15\.00<\/b><\/span>/)).not.toBeNull();
    const id = await order([`press:picture:${pictureId(1)}:1`, dayLine]);
    const ordered = await rider.get(`/order/${id}`);
    expect(ordered).toContain('<summary>Terms of use for the press</summary><p>Ask hello@example.org, name Quill.</p>');
    expect(ordered).toContain('For personal use (Open day &lt;b&gt;at&lt;/b&gt; Fallow Ring, 19 September 2026)');
    expect((await state(id)).placed!.lines.map(({ licence }) => licence)).toEqual(['press', 'personal']);
  });

  it('in Arabic it is said that the receipt is in English', async () => {
    const id = await order([dayLine], 'ar');
    await paid(id);
    expect(await rider.get(`/order/${id}`)).toContain(lawWords.ar.paperLanguage);
    expect(await rider.get(`/order/${id}?language=de`)).not.toContain(lawWords.ar.paperLanguage);
  });
});
