/**
 * What riders reach: prices, basket, order, its page and papers, and the gallery's forms. Plain pages, no scripts, and one answer for all
 * that is not there. Rules OR24, OR28–OR32.
 */
import { type Context, Hono } from 'hono';
import { html } from 'hono/html';
import { z } from 'zod';
import { hasDownloads, withdrawableOf } from '../../core/handover/law/index.js';
import {
  MESSAGE_FIELDS,
  MESSAGE_KINDS,
  type MessageKind,
  type Offer,
  type OrderId,
  type OrderState,
  type Paper,
  type PricedBasket,
  stateOf,
} from '../../core/handover/orders/index.js';
import { drawPaper } from '../invoice/drawPaper.js';
import { basketPage } from '../pages/basketPage.js';
import { type Html, pageOf, textOf } from '../pages/frame.js';
import { liveryIn } from '../pages/inLanguage.js';
import { meetingPage, picturePage, riderPage, type Seen } from '../pages/offerPages.js';
import { orderForm, type Typed } from '../pages/orderForm.js';
import { orderPage } from '../pages/orderPage.js';
import { withdrawalLines, withdrawPage } from '../pages/withdrawPage.js';
import { type Language, wordsOf } from '../pages/words/index.js';
import { lawWords } from '../pages/words/law.js';
import { ShopError } from '../shopError.js';
import {
  type Basket,
  basketOf,
  codeOf,
  cookieOf,
  emptyBasket,
  formKeyOf,
  lineOf,
  lineText,
  MOST_LINES,
} from './basketCookie.js';
import { placeOrder, prepaidAmount, pricedNow, tellFact, withdrawFromContract } from './deeds.js';
import { type Forms, formsOf } from './forms.js';
import { type GuardSettings, type Guards, guardsOf } from './guards.js';
import { addLook } from './look.js';
import { messageIdOf } from './messages.js';
import { consentOf, contactOf, hasPrints, lacksOf, typedOf, waysFor } from './orderAsked.js';
import { referenceOf } from './reference.js';
import type { ShopPorts } from './types.js';
import { addWebhooks } from './webhooks.js';

const ID = '[0-9a-f]{32}';
/** On the van's screen all pages make room for the next rider: an order soon, what somebody left half-way later. */
const ORDER_SHOWN_S = 90;
const LEFT_ALONE_S = 240;

export function publicApp(ports: ShopPorts, settings: GuardSettings): Hono {
  return new PublicSide(ports, settings).app;
}

class PublicSide {
  readonly app = new Hono();
  readonly #ports: ShopPorts;
  readonly #forms: Forms;
  readonly #guards: Guards;

  constructor(ports: ShopPorts, settings: GuardSettings) {
    this.#ports = ports;
    this.#forms = formsOf(ports);
    this.#guards = guardsOf(ports, settings, (context) => this.#say(context, 429, 'tooMany', 'tooManyWords'));
    const { app } = this;
    app.use(...this.#guards.all);
    addWebhooks(app, ports);
    addLook(app);
    app.get('/', (context) => this.#first(context));
    app.get(`/order/:order{${ID}}`, (context) => this.#order(context));
    app.post(`/order/:order{${ID}}/:deed{pay|cancel|withdraw}`, (context) => this.#deed(context));
    app.get(`/order/:order{${ID}}/withdraw`, (context) => this.#withdrawing(context));
    app.get(`/order/:order{${ID}}/withdrawal.txt`, (context) => this.#withdrawn(context));
    app.get(`/order/:order{${ID}}/:paper{(invoice|credit-note)-[A-Za-z0-9]+-[0-9]+\\.pdf}`, (context) =>
      this.#paper(context),
    );
    app.get(`/:meeting{${ID}}`, (context) => this.#meeting(context));
    app.get(`/:meeting{${ID}}/van`, (context) => this.#van(context));
    app.get(`/:meeting{${ID}}/next`, (context) => this.#next(context));
    app.get(`/:meeting{${ID}}/picture/:id{${ID}}`, (context) => this.#picture(context));
    app.get(`/:meeting{${ID}}/rider/:id{${ID}}`, (context) => this.#rider(context));
    app.get(`/:meeting{${ID}}/basket`, (context) => this.#basket(context));
    app.post(`/:meeting{${ID}}/basket`, (context) => this.#change(context));
    app.get(`/:meeting{${ID}}/order`, (context) => this.#form(context));
    app.post(`/:meeting{${ID}}/order`, (context) => this.#place(context));
    app.post(`/:meeting{${ID}}/:kind{${MESSAGE_KINDS.join('|')}}`, (context) => this.#message(context));
    // Where somebody chooses another language, or loads it again, after a message was sent.
    app.get(`/:meeting{${ID}}/:kind{${MESSAGE_KINDS.join('|')}}`, (context) =>
      context.redirect(`/${context.req.param('meeting')}?language=${this.#language(context)}`),
    );
    for (const part of ports.parts) part.addTo(app);
    app.notFound((context) => this.#nothingHere(context));
    app.onError((error, context) => this.#refuse(error, context));
  }

  #language(context: Context): Language {
    return this.#forms.language(context);
  }

  async #show(
    context: Context,
    spec: { title: string; offer: Offer | null; body: Html; shownS?: number },
    status: 200 | 400 | 403 | 404 | 409 | 422 | 429 | 500 | 502 = 200,
  ): Promise<Response> {
    const inBasket = spec.offer === null ? 0 : this.#basketOf(context, spec.offer).lines.length;
    const page = await textOf(pageOf({ ...spec, inBasket, language: this.#language(context) }));
    if (spec.offer !== null && this.#isAtVan(context))
      context.header('refresh', `${spec.shownS ?? LEFT_ALONE_S}; url=/${spec.offer.meeting}/next`);
    // Baskets and orders are one person's; a cache in between must not keep them.
    return context.html(page, status, { 'cache-control': 'no-store' });
  }

  #isAtVan(context: Context): boolean {
    return this.#forms.cookie(context, 'van') === 'yes';
  }

  #say(
    context: Context,
    status: 400 | 403 | 404 | 429 | 500 | 502,
    title: 'tooMany' | 'notHere' | 'wrong',
    sentence: 'tooManyWords' | 'notHereWords' | 'wrongWords' | 'oldForm',
  ): Promise<Response> {
    const words = wordsOf[this.#language(context)];
    return this.#show(context, { title: words[title], offer: null, body: html`<p>${words[sentence]}</p>` }, status);
  }

  /** The same for what never was, what is gone and what was guessed. */
  #nothingHere(context: Context): Promise<Response> {
    this.#guards.missed(context);
    return this.#say(context, 404, 'notHere', 'notHereWords');
  }

  #refuse(error: Error, context: Context): Promise<Response> {
    if (error instanceof ShopError && error.status === 404) return this.#nothingHere(context);
    if (error instanceof ShopError && error.status === 429) return this.#say(context, 429, 'tooMany', 'tooManyWords');
    if (error instanceof ShopError && error.status === 502) return this.#say(context, 502, 'wrong', 'wrongWords');
    console.error(`A page could not be made: ${error.message}`);
    return this.#say(context, 500, 'wrong', 'wrongWords');
  }

  async #offer(context: Context): Promise<Offer> {
    const offer = await this.#ports.store.offer(context.req.param('meeting') ?? '');
    if (offer) return offer;
    throw new ShopError(404, 'No such meeting.');
  }

  #basketOf(context: Context, { meeting }: Offer): Basket {
    return basketOf(this.#forms.cookie(context, `basket-${meeting}`));
  }

  /** Who has tried many codes is stopped before another is looked up, good or not. */
  async #priced(context: Context, offer: Offer): Promise<PricedBasket> {
    const basket = this.#basketOf(context, offer);
    if (basket.voucherCode !== null && !this.#guards.may(context, 'codes', 0))
      throw new ShopError(429, 'Too many codes were tried from this address.');
    const priced = await pricedNow(this.#ports.store, offer, basket, this.#ports.now());
    if (priced.voucher?.is === 'unknown') this.#guards.may(context, 'codes');
    return priced;
  }

  #keepBasket(context: Context, { meeting }: Offer, basket: Basket): void {
    this.#forms.setCookie(context, `basket-${meeting}`, cookieOf(basket));
  }

  async #first(context: Context): Promise<Response> {
    const offers = await this.#ports.store.offers();
    if (offers.length === 1) return context.redirect(`/${offers[0]!.meeting}`, 302);
    // Several meetings are reached from their own galleries: a list would tell each one's riders of the others.
    return this.#nothingHere(context);
  }

  #seen(context: Context, offer: Offer): Seen {
    const language = this.#language(context);
    return { offer, language, token: this.#forms.token(context), inBasket: this.#basketOf(context, offer).lines };
  }

  async #meeting(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    const said = (name: string) => (context.req.query(name) ?? '').slice(0, 80);
    const body = meetingPage(this.#seen(context, offer), { bike: said('bike'), session: said('session') });
    return this.#show(context, { title: offer.title, offer, body });
  }

  async #van(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    this.#forms.setCookie(context, 'van', 'yes');
    return context.redirect(`/${offer.meeting}`, 302);
  }

  async #next(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    this.#keepBasket(context, offer, emptyBasket());
    this.#forms.setCookie(context, 'van-order', '');
    return context.redirect(`/${offer.meeting}`, 302);
  }

  async #picture(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    const id = context.req.param('id')!;
    if (offer.withdrawn.includes(id) || !offer.pictures.some((one) => one.id === id)) return this.#nothingHere(context);
    const seen = this.#seen(context, offer);
    return this.#show(context, { title: wordsOf[seen.language].thisPicture, offer, body: picturePage(seen, id) });
  }

  async #rider(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    const rider = offer.riders.find(({ publicId }) => publicId === context.req.param('id'));
    if (!rider) return this.#nothingHere(context);
    const seen = this.#seen(context, offer);
    return this.#show(context, { title: liveryIn(rider, seen.language), offer, body: riderPage(seen, rider) });
  }

  async #basket(context: Context, note?: string): Promise<Response> {
    const offer = await this.#offer(context);
    const seen = this.#seen(context, offer);
    const basket = this.#basketOf(context, offer);
    const priced = await this.#priced(context, offer);
    const isUnknown = priced.voucher?.is === 'unknown';
    // What cannot be had is said once and is out.
    if (priced.troubles.length > 0 || isUnknown)
      this.#keepBasket(context, offer, {
        ...basket,
        lines: priced.lines,
        voucherCode: isUnknown ? null : basket.voucherCode,
      });
    const prepaid = await prepaidAmount(this.#ports.store, offer, priced);
    const body = basketPage({ ...seen, basket: priced, prepaid, ...(note === undefined ? {} : { note }) });
    return this.#show(context, { title: wordsOf[seen.language].basket, offer, body });
  }

  async #change(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    const sent = await fieldsOf(context);
    if (!this.#forms.isOurs(context, sent.token)) return this.#say(context, 403, 'wrong', 'oldForm');
    const basket = this.#basketOf(context, offer);
    const changed = changedBasket(basket, sent);
    if (changed === 'full') return this.#basket(context, wordsOf[this.#language(context)].basketFull(MOST_LINES));
    this.#keepBasket(context, offer, changed);
    // A code with a space or a letter too much cannot be kept: it is said at once.
    if (sent.do === 'code' && changed.voucherCode === null && sent.code?.trim())
      return this.#basket(context, wordsOf[this.#language(context)].voucherIs.unknown);
    return context.redirect(`/${offer.meeting}/basket`, 303);
  }

  async #form(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    const basket = this.#basketOf(context, offer);
    if (basket.lines.length === 0) return context.redirect(`/${offer.meeting}/basket`, 303);
    return this.#orderForm(context, offer, { name: '', mail: '', address: '', way: '' }, null);
  }

  async #orderForm(context: Context, offer: Offer, typed: Typed, sent: Fields | null): Promise<Response> {
    const seen = this.#seen(context, offer);
    const basket = await this.#priced(context, offer);
    const prepaid = await prepaidAmount(this.#ports.store, offer, basket);
    const lacks = sent === null ? [] : lacksOf(sent, basket, prepaid, this.#ports);
    const body = orderForm({
      ...seen,
      basket,
      prepaid,
      typed,
      lacks,
      ways: waysFor(basket, prepaid, this.#ports),
      provider: this.#ports.provider?.name ?? null,
      isAtVan: this.#isAtVan(context),
      needsAddress: hasPrints(basket),
      needsConsent: hasDownloads(basket),
    });
    const { order } = wordsOf[seen.language];
    return this.#show(context, { title: order, offer, body }, lacks.length === 0 ? 200 : 422);
  }

  async #place(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    const sent = await fieldsOf(context);
    if (!this.#forms.isOurs(context, sent.token)) return this.#say(context, 403, 'wrong', 'oldForm');
    if (!this.#guards.may(context, 'orders')) return this.#say(context, 429, 'tooMany', 'tooManyWords');
    const language = this.#language(context);
    const basket = this.#basketOf(context, offer);
    const priced = await this.#priced(context, offer);
    const prepaid = await prepaidAmount(this.#ports.store, offer, priced);
    if (lacksOf(sent, priced, prepaid, this.#ports).length > 0)
      return this.#orderForm(context, offer, typedOf(sent), sent);
    const outcome = await placeOrder(this.#ports, {
      meeting: offer.meeting,
      basket,
      contact: contactOf(sent, priced),
      way: waysFor(priced, prepaid, this.#ports).find((way) => way === sent.way) ?? 'nothing-to-pay',
      consent: consentOf(priced, wordsOf[language], this.#ports.now()),
      language,
      formKey: formKeyOf(basket),
      seenToPay: seenOf(sent),
    });
    if (outcome.kind === 'changed') return this.#basket(context, wordsOf[language].changed);
    this.#told(outcome.order);
    if (this.#isAtVan(context)) this.#forms.setCookie(context, 'van-order', outcome.order);
    this.#keepBasket(context, offer, emptyBasket());
    return context.redirect(`/order/${outcome.order}`, 303);
  }

  #told(order: OrderId): void {
    for (const part of this.#ports.parts) part.told(order);
  }

  async #stateOf(context: Context): Promise<{ state: OrderState; offer: Offer; papers: readonly Paper[] } | null> {
    const order = context.req.param('order') as OrderId;
    // Going back on the van's screen must not lead to the order of who stood there before.
    if (this.#isAtVan(context) && this.#forms.cookie(context, 'van-order') !== order) return null;
    const { store } = this.#ports;
    const state = stateOf(order, await store.factsOf(order));
    const offer = state.placed === null ? null : await store.offer(state.placed.meeting);
    return offer === null ? null : { state, offer, papers: await store.papersOf(order) };
  }

  async #order(context: Context): Promise<Response> {
    const found = await this.#stateOf(context);
    if (!found) return this.#nothingHere(context);
    const { settings, provider, parts } = this.#ports;
    const language = this.#language(context);
    const said = await Promise.all(parts.map((part) => part.onOrderPage(found.state, language)));
    const body = orderPage({
      ...found,
      language,
      token: this.#forms.token(context),
      reference: referenceOf(found.state.id),
      transferTo: settings.transferTo,
      provider: provider?.name ?? null,
      parts: said.filter((part) => part !== null),
      isAtVan: this.#isAtVan(context),
      now: this.#ports.now(),
    });
    return this.#show(context, { title: wordsOf[language].order, offer: found.offer, body, shownS: ORDER_SHOWN_S });
  }

  async #deed(context: Context): Promise<Response> {
    const found = await this.#stateOf(context);
    if (!found) return this.#nothingHere(context);
    const sent = await fieldsOf(context);
    if (!this.#forms.isOurs(context, sent.token)) return this.#say(context, 403, 'wrong', 'oldForm');
    if (!this.#guards.may(context, 'orders')) return this.#say(context, 429, 'tooMany', 'tooManyWords');
    switch (context.req.param('deed')) {
      case 'pay':
        return this.#pay(context, found.state);
      case 'withdraw':
        return this.#withdraw(context, found.state, sent);
      default:
        return this.#cancel(context, found.state);
    }
  }

  /** The statement, to be confirmed; where the right stands no more, the order's page says what there is to say. */
  async #withdrawing(context: Context): Promise<Response> {
    const found = await this.#stateOf(context);
    if (!found) return this.#nothingHere(context);
    const { state, offer } = found;
    const now = this.#ports.now();
    if (withdrawableOf(state, now).length === 0) return context.redirect(`/order/${state.id}`, 303);
    const language = this.#language(context);
    const body = withdrawPage({ state, language, token: this.#forms.token(context), now });
    return this.#show(context, { title: lawWords[language].here, offer, body });
  }

  async #withdraw(context: Context, { id }: OrderState, sent: Fields): Promise<Response> {
    const parts = (['downloads', 'prints'] as const).filter((part) => sent[part] === 'yes');
    if (parts.length === 0) return context.redirect(`/order/${id}/withdraw`, 303);
    await withdrawFromContract(this.#ports, id, parts);
    this.#told(id);
    return context.redirect(`/order/${id}`, 303);
  }

  async #withdrawn(context: Context): Promise<Response> {
    const found = await this.#stateOf(context);
    const lines = found ? withdrawalLines(found.state, found.offer, this.#language(context)) : [];
    if (lines.length === 0) return this.#nothingHere(context);
    return context.text(`${lines.join('\n\n')}\n`, 200, {
      'content-disposition': `attachment; filename="${referenceOf(found!.state.id)}.txt"`,
      'cache-control': 'no-store',
    });
  }

  async #pay(context: Context, { id, owed, placed, paid }: OrderState): Promise<Response> {
    const { provider, site } = this.#ports;
    if (provider === null || owed === 0 || placed === null) return context.redirect(`/order/${id}`, 303);
    const address = await provider.start({
      order: id,
      amount: owed,
      currency: placed.totals.currency,
      about: referenceOf(id),
      back: `${site}/order/${id}`,
      // Asked again for the same rest it is the same payment; after part of it was paid it is another.
      key: `${id}-${paid}`,
    });
    return context.redirect(address, 303);
  }

  /** Only what nobody has paid yet; anything else is the photographer's to give back. */
  async #cancel(context: Context, { id, paid, standing }: OrderState): Promise<Response> {
    if (standing === 'waiting-for-money' && paid === 0) {
      const key = `cancelled ${id}` as Parameters<typeof tellFact>[1]['key'];
      await tellFact(this.#ports, { order: id, key, by: 'buyer', fact: { kind: 'cancelled', by: 'buyer' } });
      this.#told(id);
    }
    return context.redirect(`/order/${id}`, 303);
  }

  async #paper(context: Context): Promise<Response> {
    const found = await this.#stateOf(context);
    const name = context.req.param('paper');
    const paper = found?.papers.find((one) => `${one.kind}-${one.series}-${one.number}.pdf` === name);
    if (!paper) return this.#nothingHere(context);
    // Drawn anew each time, which is the dearest thing a visitor can ask for.
    if (!this.#guards.may(context, 'orders')) return this.#say(context, 429, 'tooMany', 'tooManyWords');
    return context.body(new Uint8Array(await drawPaper(paper)), 200, {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${name}"`,
      'cache-control': 'no-store',
    });
  }

  /** From the gallery's pages, which are files and cannot hold a word of ours: so it is only kept for the photographer to read. */
  async #message(context: Context): Promise<Response> {
    const offer = await this.#offer(context);
    if (!this.#guards.may(context, 'messages')) return this.#say(context, 429, 'tooMany', 'tooManyWords');
    const sent = messageFields.parse(await fieldsOf(context));
    const kind = context.req.param('kind') as MessageKind;
    const now = this.#ports.now();
    const id = messageIdOf(offer.meeting, kind, sent, now);
    const words = Object.fromEntries(Object.entries(sent).filter(([, text]) => text !== ''));
    // Nothing was said, or it was cut off on its way: then nobody has it.
    if (Object.keys(words).length === 0) return this.#say(context, 400, 'wrong', 'wrongWords');
    await this.#ports.store.write((writes) => writes.addMessage({ id, meeting: offer.meeting, kind, at: now, words }));
    const { told, toldLook, toldAnswer } = wordsOf[this.#language(context)];
    const said = kind === 'cannot-find-me' ? `${toldLook} ${toldAnswer}` : toldAnswer;
    return this.#show(context, { title: told, offer, body: html`<p>${said}</p>` });
  }
}

const messageFields = z.object(
  Object.fromEntries(MESSAGE_FIELDS.map((name) => [name, z.string().trim().max(2000).catch('').default('')])),
);

type Fields = Readonly<Record<string, string>>;

/** Texts alone; a file or a list in a form is nothing of ours. */
async function fieldsOf(context: Context): Promise<Fields> {
  const body = await context.req.parseBody().catch(() => ({}));
  return Object.fromEntries(
    Object.entries(body).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
  );
}

const seenOf = ({ seen = '' }: Fields) =>
  (/^\d{1,12}$/.test(seen) ? Number(seen) : -1) as Parameters<typeof placeOrder>[1]['seenToPay'];

/** The same line put in again is there once; another count takes the place of the one before. */
function changedBasket(basket: Basket, sent: Fields): Basket | 'full' {
  if (sent.do === 'code') return { ...basket, voucherCode: sent.code?.trim() ? codeOf(sent.code) : null };
  const line = lineOf(sent.line ?? '');
  if (line === null) return basket;
  const same = (one: typeof line) => lineText({ ...one, quantity: 1 }) === lineText({ ...line, quantity: 1 });
  if (sent.do === 'out') return { ...basket, lines: basket.lines.filter((one) => !same(one)) };
  const count = Number(sent.count);
  if (sent.do === 'count' && Number.isInteger(count) && count >= 1 && count <= 99)
    return { ...basket, lines: basket.lines.map((one) => (same(one) ? { ...one, quantity: count } : one)) };
  if (sent.do !== 'put' || basket.lines.some(same)) return basket;
  return basket.lines.length >= MOST_LINES ? 'full' : { ...basket, lines: [...basket.lines, line] };
}
