/**
 * What riders reach by a link: the set's page, single pictures, the zip, a fresh letter. Forged, cut off and unknown links are one answer,
 * and nothing is looked up before the signature stood. Rules HD1–HD12.
 */
import type { Context, Hono } from 'hono';
import { html } from 'hono/html';
import {
  type FactKey,
  handedFiles,
  type OrderId,
  type OrderState,
  releaseOf,
  type StoredFact,
} from '../../core/handover/orders/index.js';
import { type Html, pageOf, textOf } from '../pages/frame.js';
import { isLanguage, type Language, languageFor } from '../pages/words/index.js';
import type { ShopPorts } from '../service/types.js';
import { type Answered, answersOf, isReady, isSettled } from './answers.js';
import { findOrder, type OrderFound, queueLetter, referenceName } from './deeds.js';
import { type LinkSigner, type LinkStanding, type SignedLink, standingOfLink } from './links.js';
import { expiredPage, setPage } from './pages/handedPage.js';
import { sendParts } from './sendParts.js';
import { nameOf, zipOf } from './setZip.js';
import type { FinalsOf, MailSettings } from './types.js';
import { handingWords } from './words/index.js';

export interface RoutePorts {
  readonly shop: Omit<ShopPorts, 'parts'>;
  readonly finals: FinalsOf;
  readonly signer: LinkSigner;
  readonly mail: MailSettings | null;
  /** Something was put in the queue. */
  readonly told: () => void;
}

const TOKEN = ':token{[0-9a-zA-Z_.-]{60,140}}';

export function addHanded(app: Hono, ports: RoutePorts): void {
  const handed = new Handed(ports);
  app.get(`/handed/${TOKEN}`, (context) => handed.set(context));
  app.get(`/handed/${TOKEN}/all.zip`, (context) => handed.zip(context));
  app.get(`/handed/${TOKEN}/:number{[1-9][0-9]{0,5}\\.jpg}`, (context) => handed.one(context));
  app.post(`/handed/${TOKEN}/renew`, (context) => handed.renew(context));
  app.post('/order/:order{[0-9a-f]{32}}/letter', (context) => handed.sendAgain(context));
}

class Handed {
  readonly #ports: RoutePorts;

  constructor(ports: RoutePorts) {
    this.#ports = ports;
  }

  async #opened(context: Context): Promise<Opened | null> {
    const { shop, signer } = this.#ports;
    const token = context.req.param('token') ?? '';
    const signed = signer.read(token);
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
    const files = handedFiles(found.state, found.offer).filter((file) => scope === null || file.picture === scope);
    if (found.state.standing !== 'paid' || files.length === 0)
      return say(mast, 410, words.nothing, html`<p>${words.nothingWords}</p>`);
    if (releaseOf(found.state, found.offer).kind === 'waits')
      return say(mast, 409, words.title, html`<p>${words.waitsForSigns}</p>`);
    return { ...opened, files: await answersOf(this.#ports.finals, files) };
  }

  async set(context: Context): Promise<Response> {
    const handed = await this.#handed(context);
    if (handed instanceof Response) return handed;
    const { found, language, address, expiresAt, files, generation } = handed;
    await this.#note(found.state.id, `page ${generation}`, { what: 'page', picture: null, bytes: 0 });
    const zip = isSettled(files) ? zipOf(files, found.offer, termsLanguage(found.state)) : null;
    const zipBytes = files.some(isReady) ? (zip?.bytes ?? null) : null;
    const body = setPage({ offer: found.offer, language, address, expiresAt, files, zipBytes });
    return say({ context, found, language }, 200, handingWords[language].title, body);
  }

  async zip(context: Context): Promise<Response> {
    const handed = await this.#handed(context);
    if (handed instanceof Response) return handed;
    const { found, language, address, expiresAt, files } = handed;
    if (!isSettled(files) || !files.some(isReady)) {
      const body = setPage({ offer: found.offer, language, address, expiresAt, files, zipBytes: null });
      context.header('retry-after', '60');
      return say({ context, found, language }, 503, handingWords[language].title, body);
    }
    const zip = zipOf(files, found.offer, termsLanguage(found.state));
    const key = `zip ${handed.scope} ${zip.digest}`;
    return sendParts(context.req.raw, {
      ...zip,
      tag: zip.digest,
      type: 'application/zip',
      onTaken: () => this.#note(found.state.id, key, { what: 'zip', picture: null, bytes: zip.bytes }),
    });
  }

  async one(context: Context): Promise<Response> {
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
      name: nameOf(file, found.offer),
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
  async renew(context: Context): Promise<Response> {
    const opened = await this.#opened(context);
    if (opened === null) return context.notFound();
    if (opened.standing !== 'expired') return context.redirect(opened.address, 303);
    return this.#sendLetter(context, opened.found, opened.language);
  }

  async sendAgain(context: Context): Promise<Response> {
    const found = await findOrder(this.#ports.shop.store, context.req.param('order') as OrderId);
    if (found === null) return context.notFound();
    return this.#sendLetter(context, found, languageOf(context, found.state));
  }

  async #sendLetter(context: Context, { state, offer }: OrderFound, language: Language): Promise<Response> {
    const { shop, mail, signer, told } = this.#ports;
    const words = handingWords[language];
    if (mail !== null)
      await shop.store.write(async (writes) => {
        const found = await findOrder(writes, state.id);
        // A link that was taken back is not renewed by who has it.
        if (found === null || found.state.link === null || found.state.link.isRevoked) return;
        await queueLetter(writes, found, { signer, now: shop.now(), by: 'buyer' }, mail);
      });
    told();
    const body = html`<p>${mail === null ? words.noLetters : words.sentWords}</p>`;
    return say({ context, found: { offer }, language }, 200, mail === null ? words.title : words.sent, body);
  }
}

type HandedOver = Extract<StoredFact['fact'], { kind: 'handed-over' }>;

interface Opened extends SignedLink {
  readonly found: OrderFound;
  readonly standing: LinkStanding;
  readonly address: string;
  readonly language: Language;
}

/** Of the order and not of who looks, so that the zip has the same bytes each time. */
const termsLanguage = ({ placed }: OrderState): string => placed?.language ?? 'en';

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
