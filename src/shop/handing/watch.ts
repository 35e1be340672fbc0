/**
 * Watches the facts and does what they call for: finals of what is paid, and when all are there, the link and its letter in one
 * transaction. It remembers nothing that the facts do not say, so killed anywhere it goes on. Rules HD5, HD13, HD16.
 */
import { handedFiles, type OrderId } from '../../core/handover/orders/index.js';
import { referenceOf } from '../service/reference.js';
import type { ShopPorts } from '../service/types.js';
import { answersOf, isSettled } from './answers.js';
import { findOrder, goodLink, mayBeHanded, queueAcknowledgement, queueLetter } from './deeds.js';
import type { FinalStore } from './finals/finalStore.js';
import type { LinkSigner } from './links.js';
import type { FinalsOf, MailSettings } from './types.js';

export interface WatchPorts {
  readonly shop: Omit<ShopPorts, 'parts'>;
  readonly store: FinalStore;
  readonly finals: FinalsOf;
  readonly signer: LinkSigner;
  readonly mail: MailSettings | null;
}

const FACTS_AT_ONCE = 500;

export class Watch {
  readonly #ports: WatchPorts;
  /** Something was told of them, and something may still be to come: money, pictures, signs. */
  readonly #open = new Set<OrderId>();
  /** Those of them something was told of since they were looked at. */
  readonly #fresh = new Set<OrderId>();
  #seen = 0;
  #isAsked = false;
  #isAllAsked = false;
  #working: Promise<void> | null = null;

  constructor(ports: WatchPorts) {
    this.#ports = ports;
  }

  /**
   * Called again while it runs, it goes round once more. A round over all looks for every picture of every open order on the disk: after
   * each order that was told, a hundred that wait for a laptop would hold up every page.
   */
  work(over: 'all' | 'told' = 'all'): Promise<void> {
    this.#isAsked = true;
    this.#isAllAsked ||= over === 'all';
    this.#working ??= this.#goRound();
    return this.#working;
  }

  async idle(): Promise<void> {
    await this.#working?.catch(() => undefined);
  }

  async #goRound(): Promise<void> {
    try {
      // Nothing is waited for between the last look at what was asked and the end: who asks in between would not be heard.
      while (this.#isAsked) {
        this.#isAsked = false;
        await this.#readOn();
        const orders = [...(this.#isAllAsked ? this.#open : this.#fresh)];
        this.#isAllAsked = false;
        this.#fresh.clear();
        for (const order of orders) await this.#attendSafely(order);
        const offers = await this.#ports.shop.store.offers();
        await this.#ports.store.removeAll(new Set(offers.flatMap(({ withdrawn }) => withdrawn)));
      }
    } finally {
      this.#working = null;
    }
  }

  async #readOn(): Promise<void> {
    for (;;) {
      const facts = await this.#ports.shop.store.factsSince(this.#seen, FACTS_AT_ONCE);
      for (const { order, fact } of facts)
        if (fact.kind !== 'handed-over') for (const of of [this.#open, this.#fresh]) of.add(order);
      this.#seen = facts.at(-1)?.seq ?? this.#seen;
      if (facts.length < FACTS_AT_ONCE) return;
    }
  }

  /** What is wrong with one order holds up no other. */
  async #attendSafely(order: OrderId): Promise<void> {
    try {
      if (await this.#attend(order)) this.#open.delete(order);
    } catch (error) {
      console.error(`${referenceOf(order)} is not handed over yet: ${(error as Error).message}`);
    }
  }

  /** Whether nothing is to be done about it until something else is told. */
  async #attend(order: OrderId): Promise<boolean> {
    const { shop, finals, signer, mail } = this.#ports;
    const found = await findOrder(shop.store, order);
    if (mail !== null && found !== null && found.state.contractWithdrawn !== null)
      await shop.store.write((writes) => queueAcknowledgement(writes, found, mail, shop.now()));
    if (found === null || found.state.standing !== 'paid' || found.state.link !== null) return true;
    const files = handedFiles(found.state, found.offer);
    if (files.length === 0) return true;
    if (!isSettled(await answersOf(finals, files)) || !mayBeHanded(found)) return false;
    await shop.store.write(async (writes) => {
      const now = await findOrder(writes, order);
      if (now === null || now.state.link !== null || !mayBeHanded(now)) return;
      const linking = { signer, now: shop.now(), by: 'service' } as const;
      await goodLink(writes, now, linking);
      const linked = await findOrder(writes, order);
      if (mail !== null && linked !== null) await queueLetter(writes, linked, linking, mail);
    });
    return true;
  }
}
