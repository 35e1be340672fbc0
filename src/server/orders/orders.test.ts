/** Orders at the desk, against a real order service: rules DK170–DK175 of docs/rules/desk.md. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { referenceOf } from '../../shop/service/reference.js';
import { createDesk } from '../desk.js';
import { createFakeDay, type FakeDay } from '../testing/fakeDay.js';
import { type OrderedDay, openOrderedDay } from '../testing/orderedDay.js';
import { headlineOf } from './ordersView.js';
import type { OrderSaid, OrdersView } from './types.js';

let day: FakeDay;
let ordered: OrderedDay;
let desk: ReturnType<typeof createDesk>;
let cookie: string;
const OWN = { host: '127.0.0.1', origin: 'http://127.0.0.1' };
const NOW = Date.parse('2026-09-19T18:00:00Z');

const open = async (more: Parameters<typeof createDesk>[1] extends infer O ? Partial<O> : never): Promise<void> => {
  desk = createDesk(day, { token: 'blue-kerb-seven', webFolder: '', now: () => NOW, ...more });
  const paired = await desk.app.request('http://127.0.0.1/api/pair', {
    method: 'POST',
    body: JSON.stringify({ token: 'blue-kerb-seven' }),
    headers: { ...OWN, 'content-type': 'application/json' },
  });
  cookie = paired.headers.getSetCookie()[0]!.split(';')[0]!;
};
const send = async <T>(path: string, body?: object): Promise<{ status: number; json: T }> => {
  const answer = await desk.app.request(`http://127.0.0.1${path}`, {
    headers: { ...OWN, cookie, 'content-type': 'application/json' },
    ...(body ? { method: 'POST', body: JSON.stringify(body) } : {}),
  });
  return { status: answer.status, json: (await answer.json()) as T };
};
const view = async (): Promise<OrdersView> => (await send<OrdersView>('/api/orders')).json;
const fetched = async (): Promise<OrdersView> => {
  await send('/api/orders/fetch', {});
  await expect.poll(async () => (await view()).fetching, { timeout: 10_000 }).toBe(null);
  return view();
};
const unpaid = { paid: 0, refunded: 0 };
const say = (order: string, said: OrderSaid) => send<{ problem?: string }>(`/api/orders/${order}`, said);

beforeEach(async () => {
  day = createFakeDay({ frames: 600, riders: 12 });
  ordered = await openOrderedDay(day);
  await open({ folder: ordered.folder, orders: ordered.service });
  return async () => {
    await desk.close();
    await ordered.close();
    await day.close();
  };
});

describe('orders at the desk', () => {
  it('DK170: are fetched and said in a sentence, those that wait for money first, each with what is owed', async () => {
    expect((await view()).headline).toBe('Nobody has ordered yet.');
    const [first, second] = [
      await ordered.place([ordered.dayLine(0)]),
      await ordered.place([ordered.pictureLine(1, 2)]),
    ];
    const before = await fetched();
    expect(before.headline).toBe('Two orders, two wait for money: £57.00.');
    expect((await say(second, { say: 'money', way: 'cash', reference: '', seen: unpaid })).status).toBe(200);
    const { headline, orders, lastFetched } = await view();
    expect(headline).toBe('Two orders, one waits for money: £45.00.');
    expect(orders.map(({ reference, state }) => [reference, state.owed])).toEqual([
      [referenceOf(first), 4500],
      [referenceOf(second), 0],
    ]);
    expect(lastFetched).toBe(Date.parse('2026-09-19T19:00:00Z'));
    expect(orders[0]!.pictures.map(({ picture }) => picture?.frameId)).toEqual(ordered.riders[0]!.frames);
    expect(orders[0]!.riders.map(({ key }) => key)).toHaveLength(1);
    expect(orders[1]!.money.map(({ said }) => said)).toMatchObject([
      { voice: 'initialled', text: '£12.00 came in cash' },
    ]);
  });

  it('DK171: money that came is told once, and nothing is told where other money came since it was shown', async () => {
    const order = await ordered.place([ordered.dayLine(0)]);
    const cash: OrderSaid = { say: 'money', way: 'terminal', reference: 'slip 12', seen: unpaid };
    expect((await say(order, cash)).status).toBe(200);
    const again = await say(order, cash);
    expect([again.status, again.json.problem]).toEqual([409, expect.stringContaining('Nothing was told')]);
    expect((await view()).orders[0]!.state).toMatchObject({ paid: 4500, standing: 'paid' });
    const known = await say('f'.repeat(32), cash);
    expect(known.status).toBe(404);
    expect((await say(order, { ...cash, way: 'cheque' as never })).status).toBe(400);
  });

  it('DK172: of a wrong rider what was marked leaves and its money goes back, in one action; its opposite mends a slip', async () => {
    const order = await ordered.place([ordered.pictureLine(0, 0), ordered.pictureLine(1, 1)]);
    await say(order, { say: 'money', way: 'cash', reference: '', seen: unpaid });
    const [paid] = (await view()).orders;
    const emptied = { ...paid!, pictures: paid!.pictures.map((one) => ({ ...one, isOut: true })) };
    expect(headlineOf([emptied])).toBe(
      'One order, and nobody owes anything. One paid for pictures that are all taken out.',
    );
    const wrong = ordered.offer.riders[1]!.pictures[1]!;
    await say(order, { say: 'wrong-rider', pictures: [wrong], seen: { paid: 2400, refunded: 0 } });
    const [one] = (await view()).orders;
    expect(one!.state).toMatchObject({ paid: 2400, refunded: 1200, pictures: [ordered.offer.riders[0]!.pictures[0]] });
    expect(one!.pictures.filter(({ isOut }) => isOut).map(({ id }) => id)).toEqual([wrong]);
    expect((await say(order, { say: 'cancel', seen: { paid: 2400, refunded: 1200 } })).status).toBe(409);
    expect((await say(order, { say: 'back', seen: { paid: 2400, refunded: 1200 } })).status).toBe(200);
    expect((await view()).orders[0]!.state).toMatchObject({ refunded: 2400, standing: 'refunded' });
    const third = await ordered.place([ordered.dayLine(2)]);
    expect((await say(third, { say: 'cancel', seen: unpaid })).status).toBe(200);
    expect((await view()).headline).toBe('Two orders, and nobody owes anything.');
  });

  it('DK173: what riders wrote stands as questions with the frame they speak of, till it is answered and forgotten', async () => {
    expect((await view()).messages).toBe(null);
    const order = await ordered.place([ordered.pictureLine(0, 1)]);
    await ordered.write('not-me', {
      picture: ordered.offer.riders[0]!.pictures[1]!,
      rider: ordered.offer.riders[0]!.publicId,
      contact: 'other@example.org',
    });
    await ordered.write('cannot-find-me', { session: 'N2', bike: 'red', words: '<b>help</b>' });
    const { messages } = await fetched();
    expect(messages).toMatchObject([
      { kind: 'cannot-find-me', sentence: 'Somebody can’t find themselves: session N2 and red bike.', picture: null },
      {
        kind: 'not-me',
        picture: { frameId: ordered.riders[0]!.frames[1] },
        contact: 'other@example.org',
        orders: [referenceOf(order)],
      },
    ]);
    expect(messages![1]!.rider).not.toBe(null);
    await send(`/api/orders/messages/${messages![1]!.id}/forget`, {});
    expect((await fetched()).messages!.map(({ kind }) => kind)).toEqual(['cannot-find-me']);
  });

  it('DK174: where the service does not answer, what came before stands, with why; nothing is told', async () => {
    const order = await ordered.place([ordered.dayLine(0)]);
    const { van } = await fetched();
    expect(van).toEqual({ address: `${ordered.site}/${ordered.offer.meeting}/van` });
    await ordered.shop.close();
    const { orders, trouble } = await fetched();
    expect([orders.length, trouble]).toEqual([1, expect.stringContaining('nothing answered')]);
    const told = await say(order, { say: 'money', way: 'cash', reference: '', seen: unpaid });
    expect([told.status, told.json.problem]).toEqual([
      409,
      expect.stringContaining('Nothing was told. Expected the order'),
    ]);
  });

  it('DK174: a desk without service, or without a gallery to order from, says so', async () => {
    await open({ folder: ordered.folder });
    expect(await view()).toMatchObject({ canFetch: false, lead: expect.stringContaining('without an order service') });
    const empty = await mkdtemp(join(tmpdir(), 'tyrewall-no-gallery-'));
    await open({ folder: empty, orders: ordered.service });
    expect(await view()).toMatchObject({ canFetch: false, lead: expect.stringContaining('No gallery') });
    await rm(empty, { recursive: true });
  });
});
