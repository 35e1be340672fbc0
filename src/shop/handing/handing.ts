/**
 * Handing over, as a part of the service: watches the facts, has finals made of what is paid, lays a link and a letter for it, and gives
 * the pictures to whoever has the link. Killed anywhere it goes on from the facts. Rules HD1–HD20.
 */
import type { Context, Hono } from 'hono';
import { html } from 'hono/html';
import {
  type FactKey,
  type HandedFile,
  handedFiles,
  type OrderId,
  type OrderState,
  releaseOf,
  type StoredFact,
} from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import { type Html, nothing, pageOf, textOf } from '../pages/frame.js';
import { isLanguage, type Language, languageFor } from '../pages/words/index.js';
import type { ShopPart, ShopPorts } from '../service/types.js';
import { addHandingAdmin } from './admin.js';
import { findOrder, goodLink, mayBeHanded, type OrderFound, queueLetter, referenceName } from './deeds.js';
import type { Bringing } from './finals/bringing.js';
import type { FinalStore } from './finals/finalStore.js';
import type { Finals } from './finals/finals.js';
import { type LinkSigner, type LinkStanding, linkSigner, standingOfLink } from './links.js';
import { letterOf } from './mail/letter.js';
import { Post } from './mail/post.js';
import { expiredPage, setPage } from './pages/handedPage.js';
import { sendParts } from './sendParts.js';
import { type Terms, zipOf } from './setZip.js';
import type { FinalAnswer, LinkScope, MailSettings } from './types.js';
import { handingWords } from './words/index.js';

export interface HandingPorts {
  readonly shop: Omit<ShopPorts, 'parts'>;
  readonly store: FinalStore;
  readonly finals: Finals;
  readonly bringing: Bringing;
  /** Null: no letters are sent, and the link stands on the order's page, whose address nobody can guess either. */
  readonly mail: MailSettings | null;
  readonly termsOf: Terms;
}

type Answered = readonly (HandedFile & { readonly answer: FinalAnswer })[];

/** Letters wait for their time, and a link may end while nobody asks. */
const ROUND_MS = 60_000;
const FACTS_AT_ONCE = 500;

const TOKEN = ':token{[0-9a-zA-Z_.-]{60,140}}';

export class Handing implements ShopPart {
  readonly post: Post | null;
  readonly #ports: HandingPorts;
  readonly #signer: LinkSigner;
  /** Paid, but something is still to come: pictures, signs. */
  readonly #open = new Set<OrderId>();
  #seen = 0;
  #isAsked = false;
  #working: Promise<void> | null = null;
  #timer: NodeJS.Timeout | null = null;
  #isClosed = false;

  constructor(ports: HandingPorts) {
    this.#ports = ports;
    this.#signer = linkSigner(ports.shop.settings.secret);
    this.post =
      ports.mail && new Post(ports.shop, ports.mail, (order, queued) => this.#letter(order, queued.generation));
    ports.finals.onSettled(() => this.#begin());
  }

  start(): void {
    this.#begin();
    this.#timer = setInterval(() => this.#begin(), ROUND_MS);
    this.#timer.unref();
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    if (this.#timer !== null) clearInterval(this.#timer);
    await this.#working?.catch(() => undefined);
    await this.#ports.finals.idle();
    await this.post?.close();
  }

  told(): void {
    this.#begin();
  }

  #begin(): void {
    if (this.#isClosed) return;
    const report = (error: unknown) => console.error(`Handing over stopped for a minute: ${(error as Error).message}`);
    this.work()
      .then(() => this.post?.carry(), report)
      .catch(report);
  }

  /** Reads on in the facts and does what they call for. Called again while it runs, it goes round once more. */
  work(): Promise<void> {
    this.#isAsked = true;
    this.#working ??= this.#goRound().finally(() => {
      this.#working = null;
    });
    return this.#working;
  }

  async #goRound(): Promise<void> {
    while (this.#isAsked) {
      this.#isAsked = false;
      await this.#readOn();
      for (const order of [...this.#open]) await this.#attend(order);
    }
    for (const { withdrawn } of await this.#ports.shop.store.offers())
      for (const picture of withdrawn) await this.#ports.store.remove(picture);
  }

  async #readOn(): Promise<void> {
    for (;;) {
      const facts = await this.#ports.shop.store.factsSince(this.#seen, FACTS_AT_ONCE);
      for (const { order, fact } of facts) if (fact.kind !== 'handed-over') this.#open.add(order);
      this.#seen = facts.at(-1)?.seq ?? this.#seen;
      if (facts.length < FACTS_AT_ONCE) return;
    }
  }

  /** Finals first, and when all are there, the link and its letter in one transaction. */
  async #attend(order: OrderId): Promise<void> {
    const { shop, mail } = this.#ports;
    const found = await findOrder(shop.store, order);
    if (found === null || found.state.standing !== 'paid' || found.state.link !== null) {
      this.#open.delete(order);
      return;
    }
    const files = handedFiles(found.state, found.offer);
    if (files.length === 0) return void this.#open.delete(order);
    if (!isSettled(await this.#answered(files)) || !mayBeHanded(found)) return;
    await shop.store.write(async (writes) => {
      const now = await findOrder(writes, order);
      if (now === null || now.state.link !== null || !mayBeHanded(now)) return;
      const linking = { signer: this.#signer, now: shop.now(), by: 'service' } as const;
      await goodLink(writes, now, linking);
      const linked = await findOrder(writes, order);
      if (mail !== null && linked !== null) await queueLetter(writes, linked, linking, mail);
    });
    this.#open.delete(order);
  }

  async #answered(files: readonly HandedFile[]): Promise<Answered> {
    return Promise.all(files.map(async (file) => ({ ...file, answer: await this.#ports.finals.want(file) })));
  }

  async #letter(order: OrderId, generation: number) {
    const { shop } = this.#ports;
    const found = await findOrder(shop.store, order);
    const placed = found?.state.placed;
    const link = found?.state.link;
    if (!found || !placed || !link || placed.contact.mail === '' || link.generation !== generation) return null;
    if (standingOfLink(link, found.facts, shop.now()) !== 'good') return null;
    return letterOf({
      placed,
      offer: found.offer,
      link: this.#address({ order, scope: 'set', ...link }),
      expiresAt: link.expiresAt,
      orderPage: `${shop.site}/order/${order}`,
    });
  }

  #address(link: Parameters<LinkSigner['sign']>[0]): string {
    return `${this.#ports.shop.site}/handed/${this.#signer.sign(link)}`;
  }

  addTo(app: Hono): void {
    app.get(`/handed/${TOKEN}`, (context) => this.#set(context));
    app.get(`/handed/${TOKEN}/all.zip`, (context) => this.#zip(context));
    app.get(`/handed/${TOKEN}/:number{[1-9][0-9]{0,5}\\.jpg}`, (context) => this.#one(context));
    app.post(`/handed/${TOKEN}/renew`, (context) => this.#renew(context));
    app.post('/order/:order{[0-9a-f]{32}}/letter', (context) => this.#sendAgain(context));
  }

  addToAdmin(app: Hono): void {
    addHandingAdmin(app, {
      shop: this.#ports.shop,
      finals: this.#ports.finals,
      bringing: this.#ports.bringing,
      signer: this.#signer,
      mail: this.#ports.mail,
      addressOf: (link) => this.#address(link),
      told: () => this.#begin(),
    });
  }

  /** What a link opens; forged, cut off and unknown ones are one answer, and nothing is looked up before the signature stood. */
  async #opened(context: Context): Promise<Opened | null> {
    const { shop } = this.#ports;
    const token = context.req.param('token') ?? '';
    const signed = this.#signer.read(token);
    const order = signed && ((await shop.store.kept(referenceName(signed.reference))) as OrderId | null);
    const found = order && (await findOrder(shop.store, order));
    if (!signed || !found) return null;
    const standing = standingOfLink(signed, found.facts, shop.now());
    return { ...signed, found, standing, address: `/handed/${token}`, language: languageOf(context, found.state) };
  }

  /** The set behind a good link, or the answer that stands in its place. */
  async #handed(context: Context): Promise<(Opened & { readonly files: Answered }) | Response> {
    const opened = await this.#opened(context);
    if (opened === null) return context.notFound();
    const { found, standing, address, language, scope } = opened;
    const words = handingWords[language];
    const mast = { context, found, language };
    if (standing === 'revoked') return say(mast, 410, words.revoked, html`<p>${words.revokedWords}</p>`);
    if (standing === 'expired')
      return say(mast, 410, words.expired, expiredPage(language, address, this.#ports.mail !== null));
    const files = handedFiles(found.state, found.offer).filter((file) => scope === 'set' || file.picture === scope);
    if (found.state.standing !== 'paid' || files.length === 0)
      return say(mast, 410, words.nothing, html`<p>${words.nothingWords}</p>`);
    if (releaseOf(found.state, found.offer).kind === 'waits')
      return say(mast, 409, words.title, html`<p>${words.waitsForSigns}</p>`);
    return { ...opened, files: await this.#answered(files) };
  }

  async #set(context: Context): Promise<Response> {
    const handed = await this.#handed(context);
    if (handed instanceof Response) return handed;
    const { found, language, address, expiresAt, files, generation } = handed;
    await this.#note(found.state.id, `page ${generation}`, { what: 'page', picture: null, bytes: 0 });
    const zip = isSettled(files) ? zipOf(files, found.offer, this.#ports.termsOf) : null;
    const zipBytes = files.some(isReady) ? (zip?.bytes ?? null) : null;
    const body = setPage({ offer: found.offer, language, address, expiresAt, files, zipBytes });
    return say({ context, found, language }, 200, handingWords[language].title, body);
  }

  async #zip(context: Context): Promise<Response> {
    const handed = await this.#handed(context);
    if (handed instanceof Response) return handed;
    const { found, language, address, expiresAt, files } = handed;
    if (!isSettled(files) || !files.some(isReady)) {
      const body = setPage({ offer: found.offer, language, address, expiresAt, files, zipBytes: null });
      context.header('retry-after', '60');
      return say({ context, found, language }, 503, handingWords[language].title, body);
    }
    const zip = zipOf(files, found.offer, this.#ports.termsOf);
    const key = `zip ${handed.scope} ${zip.digest}`;
    return sendParts(context.req.raw, {
      ...zip,
      tag: zip.digest,
      type: 'application/zip',
      onTaken: () => this.#note(found.state.id, key, { what: 'zip', picture: null, bytes: zip.bytes }),
    });
  }

  async #one(context: Context): Promise<Response> {
    const handed = await this.#handed(context);
    if (handed instanceof Response) return handed;
    const { found, files } = handed;
    const file = files.find(({ number }) => `${number}.jpg` === context.req.param('number'));
    if (file?.answer.kind !== 'ready') return context.notFound();
    const { path, bytes, sha256 } = file.answer;
    return sendParts(context.req.raw, {
      parts: [{ at: 0, bytes, path }],
      bytes,
      tag: sha256.slice(0, 32),
      type: 'image/jpeg',
      name: zipOf([file], found.offer, () => null).entries[0]!.name.replace(/^.*\//, ''),
      onTaken: () => this.#note(found.state.id, `picture ${sha256}`, { what: 'picture', picture: file.picture, bytes }),
    });
  }

  /** Told once for the same thing, so that a link that is opened a thousand times fills nothing. */
  async #note(order: OrderId, key: string, what: Omit<HandedOver, 'kind'>): Promise<void> {
    const { store, now } = this.#ports.shop;
    const fact: HandedOver = { kind: 'handed-over', ...what };
    const told: StoredFact = { order, key: `handed ${order} ${key}` as FactKey, at: now(), by: 'buyer', fact };
    if (await store.factByKey(told.key)) return;
    await store.write((writes) => writes.addFact(told));
  }

  /** The answer is the same whether a letter goes or not: the link's holder learns nothing of the order. */
  async #renew(context: Context): Promise<Response> {
    const opened = await this.#opened(context);
    if (opened === null) return context.notFound();
    if (opened.standing !== 'expired') return context.redirect(opened.address, 303);
    return this.#sendLetter(context, opened.found, opened.language);
  }

  async #sendAgain(context: Context): Promise<Response> {
    const found = await findOrder(this.#ports.shop.store, context.req.param('order') as OrderId);
    if (found === null) return context.notFound();
    return this.#sendLetter(context, found, languageOf(context, found.state));
  }

  async #sendLetter(context: Context, { state, offer }: OrderFound, language: Language): Promise<Response> {
    const { shop, mail } = this.#ports;
    const words = handingWords[language];
    if (mail !== null)
      await shop.store.write(async (writes) => {
        const found = await findOrder(writes, state.id);
        // A link that was taken back is not renewed by who has it.
        if (found === null || found.state.link === null || found.state.link.isRevoked) return;
        await queueLetter(writes, found, { signer: this.#signer, now: shop.now(), by: 'buyer' }, mail);
      });
    this.#begin();
    const body = html`<p>${mail === null ? words.noLetters : words.sentWords}</p>`;
    return say({ context, found: { offer }, language }, 200, mail === null ? words.title : words.sent, body);
  }

  async onOrderPage(state: OrderState, language: Language): Promise<Html | null> {
    const { shop, mail } = this.#ports;
    const found = await findOrder(shop.store, state.id);
    const files = found === null ? [] : handedFiles(found.state, found.offer);
    if (found === null || found.state.standing !== 'paid' || files.length === 0) return null;
    const words = handingWords[language];
    if (releaseOf(found.state, found.offer).kind === 'waits') return html`<p class="lead">${words.waitsForSigns}</p>`;
    const { link } = found.state;
    if (link === null) {
      const answered = await this.#answered(files);
      const ready = answered.filter(isReady).length;
      const isHere = answered.every(({ answer }) => answer.kind !== 'waits-for-laptop');
      return html`<p class="lead">${isHere ? words.making(ready, files.length) : words.waitsForLaptop(ready, files.length)}</p>`;
    }
    if (link.isRevoked) return html`<p class="lead">${words.revoked}. ${words.revokedWords}</p>`;
    if (mail === null) {
      const isGood = standingOfLink(link, found.facts, shop.now()) === 'good';
      const address = this.#address({ order: state.id, scope: 'set', ...link });
      return isGood
        ? html`<p><a class="strong" href="${address}">${words.open}</a></p>`
        : html`<p>${words.expired}</p>`;
    }
    const letters = (await shop.store.mailsOf(state.id)).map(({ outcome }) => outcome);
    if (letters.includes('waiting')) return html`<p class="lead">${words.letterWaits}</p>`;
    const said = letters.includes('sent') ? words.letterSent : letters.length > 0 ? words.letterFailed : null;
    return html`${said === null ? nothing : html`<p class="lead">${said}</p>`}<form method="post" action="/order/${state.id}/letter"><button>${said === null ? words.renew : words.sendAgain}</button></form>`;
  }
}

type HandedOver = Extract<StoredFact['fact'], { kind: 'handed-over' }>;

interface Opened {
  readonly scope: LinkScope | PublicId;
  readonly generation: number;
  readonly expiresAt: number;
  readonly found: OrderFound;
  readonly standing: LinkStanding;
  readonly address: string;
  readonly language: Language;
}

const isReady = ({ answer }: Answered[number]): boolean => answer.kind === 'ready';

/** Whether nothing is still to come: what cannot be made does not hold up the rest. */
const isSettled = (files: Answered): boolean =>
  files.every(({ answer }) => answer.kind === 'ready' || answer.kind === 'cannot');

/** As asked here, else as it was ordered. */
function languageOf(context: Context, { placed }: OrderState): Language {
  const asked = context.req.query('language');
  if (isLanguage(asked)) return asked;
  return isLanguage(placed?.language) ? placed.language : languageFor(context.req.header('accept-language'));
}

async function say(
  { context, found, language }: { context: Context; found: Pick<OrderFound, 'offer'>; language: Language },
  status: 200 | 409 | 410 | 503,
  title: string,
  body: Html,
): Promise<Response> {
  const page = await textOf(pageOf({ language, title, offer: found.offer, body }));
  return context.html(page, status, { 'cache-control': 'no-store' });
}
