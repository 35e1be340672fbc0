/**
 * The part of the desk's API for orders. The service is the truth: facts are fetched into the meeting, what is said is told to the
 * service and fetched again. What riders wrote stays at the service and is only held here while the desk is open.
 */
import type { Hono } from 'hono';
import { type OrderId, stateOf } from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { Day } from '../../host/day/types.js';
import { publicIdsOf, secretSoFar } from '../../host/gallery/secret.js';
import { fetchOrders, readFetchedOrders } from '../../host/orders/fetchedOrders.js';
import { DeskError } from '../DeskError.js';
import { firstTrouble } from '../decisionSchema.js';
import type { Changes } from '../events.js';
import { type Known, knownOf } from '../views/known.js';
import { wallIn } from '../views/wallTime.js';
import { factsToTell, orderSaid } from './factsToTell.js';
import { headlineOf, lookedUp, messageViews, orderViews } from './ordersView.js';
import type { OrderService, RiderMessage } from './service.js';
import type { OrdersView } from './types.js';

interface OrdersParts {
  readonly day: Day;
  readonly changes: Changes;
  readonly now: () => number;
  /** The meeting's; without it no order is kept here. */
  readonly folder: string | undefined;
  readonly service: (() => Promise<OrderService>) | undefined;
}

const NO_SERVICE = 'This desk was opened without an order service: tyrewall open --data takes its folder.';
const NO_GALLERY = 'No gallery of this meeting was made yet, so nobody can order from it.';

export function addOrders(app: Hono, parts: OrdersParts): void {
  const orders = new OrdersHere(parts);
  app.get('/api/orders', async (context) => context.json(await orders.view()));
  app.post('/api/orders/fetch', (context) => {
    void orders.fetch();
    return context.json({ started: true }, 202);
  });
  app.post('/api/orders/messages/:id/forget', async (context) => {
    await orders.forget(context.req.param('id'));
    return context.json({ forgotten: true });
  });
  app.post('/api/orders/:order', async (context) => {
    const parsed = orderSaid.safeParse(await context.req.json().catch(() => null));
    if (!parsed.success)
      throw new DeskError(400, `Nothing was told. Expected ${firstTrouble(parsed.error)}. Reload the page.`);
    await orders.say(context.req.param('order') as OrderId, parsed.data);
    return context.json({ told: true });
  });
}

type Where = Awaited<ReturnType<OrderService['where']>>;

class OrdersHere {
  readonly #parts: OrdersParts;
  #underWay: Promise<void> | null = null;
  #come = 0;
  #fetchedAt: number | null = null;
  #trouble: string | null = null;
  #messages: readonly RiderMessage[] | null = null;
  #where: Where | null = null;
  #looked: { readonly known: Known; readonly found: ReturnType<typeof lookedUp> } | null = null;

  constructor(parts: OrdersParts) {
    this.#parts = parts;
  }

  /** One at a time; who asks meanwhile waits for the one under way. */
  fetch(): Promise<void> {
    if (this.#underWay !== null) return this.#underWay;
    this.#underWay = this.#fetchAll().finally(() => {
      this.#underWay = null;
      this.#parts.changes.announce('orders');
    });
    this.#parts.changes.announce('orders');
    return this.#underWay;
  }

  async #fetchAll(): Promise<void> {
    this.#come = 0;
    try {
      const { service, folder, meeting } = await this.#ends();
      await fetchOrders(folder, (since) => this.#counted(service.factsSince(since, meeting)));
      this.#messages = (await allMessages(service)).filter((one) => one.meeting === meeting);
      this.#where = await service.where();
      this.#fetchedAt = this.#parts.now();
      this.#trouble = null;
    } catch (problem) {
      this.#trouble = (problem as Error).message;
    }
  }

  async *#counted(pages: ReturnType<OrderService['factsSince']>) {
    for await (const page of pages) {
      this.#come += page.facts.length;
      this.#parts.changes.announce('orders');
      yield page;
    }
  }

  async #ends(): Promise<{ readonly service: OrderService; readonly folder: string; readonly meeting: PublicId }> {
    const { service, folder, day } = this.#parts;
    if (service === undefined || folder === undefined) throw new DeskError(409, NO_SERVICE);
    const secret = await secretSoFar(folder);
    if (secret === null) throw new DeskError(409, NO_GALLERY);
    return { service: await service(), folder, meeting: publicIdsOf(secret)('meeting', day.state().about.id) };
  }

  /** Against the facts of this moment, for money may have come since the screen was drawn. */
  async say(order: OrderId, said: Parameters<typeof factsToTell>[1]): Promise<void> {
    await this.#fresh();
    const { service, folder } = await this.#ends();
    const { facts } = await readFetchedOrders(folder);
    const state = stateOf(
      order,
      facts.filter((one) => one.order === order),
    );
    if (state.placed === null)
      throw new DeskError(404, 'Expected an order of this meeting but there is none of that id.');
    for (const told of factsToTell(state, said)) await service.tell(order, told).catch(refuse);
    await this.fetch();
  }

  async forget(id: string): Promise<void> {
    const { service } = await this.#ends();
    await service.forgetMessage(id).catch(refuse);
    this.#messages = this.#messages?.filter((one) => one.id !== id) ?? null;
  }

  async #fresh(): Promise<void> {
    await this.#underWay;
    await this.fetch();
    if (this.#trouble !== null) throw new DeskError(409, `Nothing was told. ${this.#trouble}`);
  }

  async view(): Promise<OrdersView> {
    const { day, folder, service } = this.#parts;
    const { asOf, about } = day.state();
    const secret = folder === undefined ? null : await secretSoFar(folder);
    const looked = secret === null ? null : this.#lookUp(secret);
    const facts = folder === undefined ? [] : (await readFetchedOrders(folder)).facts;
    const orders = looked === null ? [] : orderViews(looked, facts);
    return {
      asOf,
      headline: headlineOf(orders),
      lead: service === undefined ? NO_SERVICE : secret === null ? NO_GALLERY : null,
      orders,
      messages: looked === null || this.#messages === null ? null : messageViews(looked, orders, this.#messages),
      canFetch: service !== undefined && secret !== null,
      fetching: this.#underWay === null ? null : { come: this.#come },
      lastFetched: this.#fetchedAt === null ? null : wallIn(about.zone, this.#fetchedAt),
      trouble: this.#trouble,
      van: this.#vanOf(looked?.idOf('meeting', about.id)),
    };
  }

  #lookUp(secret: string): ReturnType<typeof lookedUp> {
    const known = knownOf(this.#parts.day.state());
    if (this.#looked?.known !== known) this.#looked = { known, found: lookedUp(known, publicIdsOf(secret)) };
    return this.#looked.found;
  }

  #vanOf(meeting: PublicId | undefined): OrdersView['van'] {
    if (this.#where === null || meeting === undefined) return { why: 'The order service was not reached yet.' };
    if (!this.#where.meetings.includes(meeting))
      return { why: 'The order service does not offer this meeting yet: say tyrewall orders offer.' };
    return { address: `${this.#where.site}/${meeting}/van` };
  }
}

async function allMessages(service: OrderService): Promise<readonly RiderMessage[]> {
  const all: RiderMessage[] = [];
  for (;;) {
    const more = await service.messagesSince(all.at(-1)?.seq ?? 0);
    if (more.length === 0) return all;
    all.push(...more);
  }
}

function refuse(problem: Error): never {
  throw new DeskError(409, problem.message, { cause: problem });
}
