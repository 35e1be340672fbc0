/** What the photographer's machine reaches: facts since a place, orders by reference, money told by hand, offers, vouchers. JSON only. */
import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { secureHeaders } from 'hono/secure-headers';
import { z } from 'zod';
import {
  type FactKey,
  type OrderId,
  type OrderState,
  type PaperNumber,
  paperNumber,
  stateOf,
} from '../../core/handover/orders/index.js';
import type { PublicId } from '../../core/handover/types.js';
import type { NumberedFact, OrderReads } from '../db/index.js';
import { ShopError } from '../shopError.js';
import type { Knock } from './adminKeys.js';
import { offerOf, tellFact } from './deeds.js';
import { plainReference, referenceOf } from './reference.js';
import { offerSchema, toldSchema, voucherSchema } from './schemas.js';
import type { ShopPorts } from './types.js';

/** An offer of a season's largest meeting is a few megabytes. */
const MOST_BODY_BYTES = 32 * 1024 * 1024;
const MOST_AT_ONCE = 1000;

export interface AdminSettings {
  readonly knock: (word: string | undefined) => Promise<Knock>;
  /** Hosts it may be asked as; null for any, where a password is set. */
  readonly hosts: () => readonly string[] | null;
}

const from = z.object({
  since: z.coerce.number().int().min(0).default(0),
  most: z.coerce.number().int().min(1).max(MOST_AT_ONCE).default(MOST_AT_ONCE),
});

/** Facts of one meeting's orders; those of an order nobody placed yet go to everyone, so that none is passed over. */
export interface FactsPage {
  readonly facts: readonly NumberedFact[];
  /** Of the orders these facts are of, all papers there are. */
  readonly papers: readonly PaperNumber[];
  /** Where to go on from; the same as asked where there was no more. */
  readonly next: number;
}

export interface AdminOrder {
  readonly reference: string;
  readonly state: OrderState;
}

/** Where riders reach the service, and which meetings it offers. */
export interface Where {
  readonly site: string;
  readonly meetings: readonly PublicId[];
}

export function adminApp(ports: ShopPorts, { knock, hosts }: AdminSettings): Hono {
  const app = new Hono();
  const { store } = ports;
  app.use(secureHeaders());
  app.use(async (context, next) => {
    const allowed = hosts();
    if (allowed !== null && !allowed.includes(context.req.header('host') ?? '')) return context.text('Not here.', 421);
    const word = /^Bearer (.+)$/.exec(context.req.header('authorization') ?? '')?.[1];
    const outcome = await knock(word);
    if (outcome === 'too-often') return context.json({ problem: 'Too many wrong passwords. Wait a minute.' }, 429);
    if (outcome === 'refused')
      return context.json({ problem: 'Expected the key of the data folder, or the password, as a bearer token.' }, 401);
    context.header('cache-control', 'no-store');
    return next();
  });
  app.use(bodyLimit({ maxSize: MOST_BODY_BYTES }));

  app.get('/api/facts', async (context) => {
    const { since, most } = from.parse(context.req.query());
    return context.json(await factsPage(store, since, most, context.req.query('meeting')));
  });
  app.get('/api/messages', async (context) => {
    const { since, most } = from.parse(context.req.query());
    return context.json(await store.messagesSince(since, most));
  });
  app.delete('/api/messages/:id', async (context) => {
    await store.write((writes) => writes.forgetMessage(context.req.param('id')));
    return context.body(null, 204);
  });
  app.get('/api/papers/:series', async (context) => {
    const { since, most } = from.parse(context.req.query());
    return context.json(await store.papersSince(context.req.param('series'), since, most));
  });
  app.get('/api/orders', async (context) => {
    const asked = context.req.query('reference');
    const orders = (await store.orders()).filter((order) => asked === undefined || isOf(order, asked));
    return context.json(await Promise.all(orders.map((order) => adminOrder(store, order))));
  });
  app.get('/api/orders/:order', async (context) =>
    context.json(await adminOrder(store, context.req.param('order') as OrderId)),
  );
  app.post('/api/orders/:order/facts', async (context) => {
    const { key, fact } = toldSchema.parse(await jsonOf(context.req));
    const order = context.req.param('order') as OrderId;
    // Of this order alone: the same sum told of two orders is two payments.
    const handKey = `hand ${order} ${key}` as FactKey;
    const state = await tellFact(ports, { order, key: handKey, by: 'photographer', fact });
    for (const part of ports.parts) part.told(order);
    return context.json({ reference: referenceOf(order), state } satisfies AdminOrder);
  });
  app.get('/api/where', async (context) => {
    const meetings = (await store.offers()).map(({ meeting }) => meeting);
    return context.json({ site: ports.site, meetings } satisfies Where);
  });
  app.get('/api/offers', async (context) => context.json(await store.offers()));
  app.put('/api/offers', async (context) => {
    const offer = offerSchema.parse(await jsonOf(context.req));
    await store.write((writes) => writes.putOffer(offer, ports.now()));
    // Riders confirmed or parted since, pictures taken down: what waits and what runs follows at once.
    for (const part of ports.parts) part.told(null);
    return context.body(null, 204);
  });
  app.get('/api/vouchers/:meeting', async (context) =>
    context.json(await store.vouchers(context.req.param('meeting'))),
  );
  app.put('/api/vouchers/:meeting', async (context) => {
    const voucher = voucherSchema.parse(await jsonOf(context.req));
    await store.write(async (writes) => {
      const { meeting } = await offerOf(writes, context.req.param('meeting'));
      await writes.putVoucher(meeting, voucher);
    });
    return context.body(null, 204);
  });
  for (const part of ports.parts) part.addToAdmin(app);

  app.notFound((context) => context.json({ problem: 'There is nothing under that address.' }, 404));
  app.onError((error, context) => {
    if (error instanceof z.ZodError) return context.json({ problem: problemOf(error) }, 422);
    if (error instanceof ShopError) return context.json({ problem: error.message }, error.status);
    console.error(`The admin side failed: ${error.message}`);
    return context.json({ problem: 'The service failed; its output says why. Nothing was half written.' }, 500);
  });
  return app;
}

const isOf = (order: OrderId, reference: string): boolean =>
  plainReference(referenceOf(order)) === plainReference(reference) || order === reference.toLowerCase();

async function adminOrder(store: OrderReads, order: OrderId): Promise<AdminOrder> {
  const state = stateOf(order, await store.factsOf(order));
  if (state.placed === null)
    throw new ShopError(404, `Expected the id of an order but ${order.slice(0, 40)} is none here.`);
  return { reference: referenceOf(order), state };
}

async function factsPage(
  store: OrderReads,
  since: number,
  most: number,
  meeting: string | undefined,
): Promise<FactsPage> {
  const scanned = await store.factsSince(since, most);
  const next = scanned.at(-1)?.seq ?? since;
  if (meeting === undefined) return { facts: scanned, papers: await papersOf(store, scanned), next };
  const meetings = new Map<OrderId, string | undefined>();
  for (const { order } of scanned)
    if (!meetings.has(order)) meetings.set(order, stateOf(order, await store.factsOf(order)).placed?.meeting);
  const facts = scanned.filter(({ order }) => (meetings.get(order) ?? meeting) === meeting);
  return { facts, papers: await papersOf(store, facts), next };
}

async function papersOf(store: OrderReads, facts: readonly NumberedFact[]): Promise<readonly PaperNumber[]> {
  const orders = [...new Set(facts.map(({ order }) => order))];
  const papers = await Promise.all(orders.map((order) => store.papersOf(order)));
  return papers.flat().map((paper) => {
    const { order, key, kind } = paper;
    return { order, key, kind, number: paperNumber(paper) };
  });
}

export async function jsonOf(request: { text(): Promise<string> }): Promise<unknown> {
  try {
    return JSON.parse(await request.text());
  } catch (cause) {
    throw new ShopError(422, `Expected JSON but got something else: ${(cause as Error).message}`, cause);
  }
}

function problemOf({ issues }: z.ZodError): string {
  const [first] = issues;
  return `Expected another value at ${first?.path.join('.') || 'the top'}: ${first?.message ?? ''}`;
}
