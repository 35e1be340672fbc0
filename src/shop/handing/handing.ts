/**
 * Handing over, as a part of the service: has finals made of what is paid, lays a link and a letter for it, and gives the pictures to
 * whoever has the link. Rules HD1–HD20.
 */
import type { Hono } from 'hono';
import { html } from 'hono/html';
import { handedFiles, type OrderId, type OrderState, releaseOf } from '../../core/handover/orders/index.js';
import { type Html, nothing } from '../pages/frame.js';
import type { Language } from '../pages/words/index.js';
import type { ShopPart, ShopPorts } from '../service/types.js';
import { addHandingAdmin } from './admin.js';
import { answersOf, isReady } from './answers.js';
import { findOrder } from './deeds.js';
import type { Bringing } from './finals/bringing.js';
import type { FinalStore } from './finals/finalStore.js';
import type { Finals } from './finals/finals.js';
import { addHanded } from './handed.js';
import { type LinkSigner, linkSigner, standingOfLink } from './links.js';
import { acknowledgementOf, letterOf } from './mail/letter.js';
import { isOfLink, Post } from './mail/post.js';
import type { Link, MailSettings } from './types.js';
import { Watch } from './watch.js';
import { handingWords } from './words/index.js';

export interface HandingPorts {
  readonly shop: Omit<ShopPorts, 'parts'>;
  readonly store: FinalStore;
  readonly finals: Finals;
  readonly bringing: Bringing;
  /** Null: no letters are sent, and the link stands on the order's page, whose address nobody can guess either. */
  readonly mail: MailSettings | null;
}

/** Letters wait for their time, and an offer may change while nobody asks. */
const ROUND_MS = 60_000;
/** A laptop brings pictures one behind the other. */
const GATHER_MS = 200;

export class Handing implements ShopPart {
  readonly post: Post | null;
  readonly #ports: HandingPorts;
  readonly #signer: LinkSigner;
  readonly #watch: Watch;
  #timer: NodeJS.Timeout | null = null;
  #gathering: NodeJS.Timeout | null = null;
  #isClosed = false;

  constructor(ports: HandingPorts) {
    const { shop, mail, finals } = ports;
    this.#ports = ports;
    this.#signer = linkSigner(shop.settings.secret);
    this.#watch = new Watch({ ...ports, signer: this.#signer });
    this.post =
      mail &&
      new Post(shop, mail, (order, queued) =>
        'generation' in queued ? this.#letter(order, queued.generation) : this.#acknowledgement(order),
      );
    finals.onSettled(() => this.#lookAround(GATHER_MS));
  }

  start(): void {
    this.told();
    this.#timer = setInterval(() => this.told(), ROUND_MS);
    this.#timer.unref();
  }

  /** Once for all that is settled in so many milliseconds. */
  #lookAround(ms: number): void {
    this.#gathering ??= setTimeout(() => {
      this.#gathering = null;
      this.told();
    }, ms).unref();
  }

  async close(): Promise<void> {
    this.#isClosed = true;
    if (this.#timer !== null) clearInterval(this.#timer);
    if (this.#gathering !== null) clearTimeout(this.#gathering);
    await this.#watch.idle();
    await this.#ports.finals.idle();
    await this.post?.close();
  }

  /** Without an order: of any. */
  told(order: OrderId | null = null): void {
    if (this.#isClosed) return;
    const report = (error: unknown) => console.error(`Handing over stopped for a minute: ${(error as Error).message}`);
    this.#watch
      .work(order === null ? 'all' : 'told')
      .then(() => this.post?.carry())
      .catch(report);
  }

  /** One round over all that was told; letters go by `post`. */
  work(): Promise<void> {
    return this.#watch.work();
  }

  addTo(app: Hono): void {
    addHanded(app, { ...this.#ports, signer: this.#signer, told: () => this.told() });
  }

  addToAdmin(app: Hono): void {
    const addressOf = (link: Link) => this.#address(link);
    addHandingAdmin(app, { ...this.#ports, signer: this.#signer, addressOf, told: () => this.told() });
  }

  #address(link: Link): string {
    return `${this.#ports.shop.site}/handed/${this.#signer.sign(link)}`;
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
      link: this.#address({ order, scope: null, ...link }),
      expiresAt: link.expiresAt,
      orderPage: `${shop.site}/order/${order}`,
    });
  }

  async #acknowledgement(order: OrderId) {
    const found = await findOrder(this.#ports.shop.store, order);
    return found === null || !found.state.placed?.contact.mail ? null : acknowledgementOf(found.state, found.offer);
  }

  async onOrderPage(state: OrderState, language: Language): Promise<Html | null> {
    const { shop, mail } = this.#ports;
    const found = await findOrder(shop.store, state.id);
    const files = found === null ? [] : handedFiles(found.state, found.offer);
    if (found === null || found.state.standing !== 'paid') return null;
    const words = handingWords[language];
    // Of prints alone, and of pictures that are still to be taken, there is nothing to say.
    const hadFiles = state.placed!.lines.some(({ asked, pictures }) => asked.kind !== 'print' && pictures.length > 0);
    if (files.length === 0) return hadFiles ? html`<p class="lead">${words.nothing}. ${words.nothingWords}</p>` : null;
    if (releaseOf(found.state, found.offer).kind === 'waits') return html`<p class="lead">${words.waitsForSigns}</p>`;
    const { link } = found.state;
    if (link === null) {
      const answered = await answersOf(this.#ports.finals, files);
      const ready = answered.filter(isReady).length;
      const isHere = answered.every(({ answer }) => answer.kind !== 'waits-for-laptop');
      return html`<p class="lead">${isHere ? words.making(ready, files.length) : words.waitsForLaptop(ready, files.length)}</p>`;
    }
    if (link.isRevoked) return html`<p class="lead">${words.revoked}. ${words.revokedWords}</p>`;
    if (mail === null) {
      const isGood = standingOfLink(link, found.facts, shop.now()) === 'good';
      const address = this.#address({ order: state.id, scope: null, ...link });
      return isGood
        ? html`<p><a class="strong" href="${address}">${words.open}</a></p>`
        : html`<p>${words.expired}</p>`;
    }
    const letters = (await shop.store.mailsOf(state.id)).filter(isOfLink).map(({ outcome }) => outcome);
    if (letters.includes('waiting')) return html`<p class="lead">${words.letterWaits}</p>`;
    const said = letters.includes('sent') ? words.letterSent : letters.length > 0 ? words.letterFailed : null;
    return html`${said === null ? nothing : html`<p class="lead">${said}</p>`}<form method="post" action="/order/${state.id}/letter"><button>${said === null ? words.renew : words.sendAgain}</button></form>`;
  }
}
