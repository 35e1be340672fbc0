/** Rules OR24, OR25, OR28–OR33, OR41 of docs/rules/orders.md. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Hono } from 'hono';
import { beforeEach, describe, expect, it } from 'vitest';
import {
  messageAddress,
  minorOf,
  type OrderId,
  pictureAddress,
  riderAddress,
  stateOf,
} from '../../core/handover/orders/index.js';
import { jsonProvider } from '../payment/jsonProvider.js';
import { signWebhook } from '../payment/standardWebhooks.js';
import type { PaymentProvider } from '../payment/types.js';
import { MEETING, offerOfDay, pictureId, RIDER, type ShopDay, shopDay } from '../testing/shopDay.js';
import { Visitor } from '../testing/visitor.js';
import { MOST_LINES } from './basketCookie.js';
import { ALLOWANCES } from './guards.js';
import { publicApp } from './publicApp.js';
import { referenceOf } from './reference.js';

const guards = { isBehindProxy: false, hosts: [] };
const buyer = { name: 'Someone <b>', mail: 'someone@example.org', way: 'transfer', supply: 'yes', loss: 'yes' };
const dayLine = `day:day:${RIDER}:2026-09-19:1`;
const printLine = `paper:print:${pictureId(1)}:1`;

let day: ShopDay;
let app: Hono;
let rider: Visitor;
const open = async (...words: Parameters<typeof shopDay>) => {
  day = await shopDay(...words);
  app = publicApp(day, guards);
  rider = new Visitor(app);
};
beforeEach(async () => {
  await open();
  return () => day.store.close();
});

const put = async (line: string, who = rider) => {
  await who.get(`/${MEETING}/rider/${RIDER}`);
  await who.post(`/${MEETING}/basket`, { do: 'put', line });
};
const order = async (fields: Record<string, string> = {}, who = rider): Promise<OrderId> => {
  await who.get(`/${MEETING}/order`);
  const seen = /name="seen" value="(\d+)"/.exec(who.html)?.[1] ?? '';
  await who.post(`/${MEETING}/order`, { ...buyer, seen, ...fields });
  return who.location.replace('/order/', '') as OrderId;
};
const placedOf = async (id: OrderId) => stateOf(id, await day.store.factsOf(id)).placed!;

describe('a rider orders', () => {
  it('from the gallery’s link by basket and form to the order’s own page', async () => {
    await rider.get(new URL(riderAddress('https://orders.example.org/', MEETING, RIDER)).pathname);
    expect(rider.status).toBe(200);
    expect(rider.html).toContain('£45.00');
    await put(dayLine);
    expect([rider.status, rider.location]).toEqual([303, `/${MEETING}/basket`]);
    await rider.get(`/${MEETING}/basket`);
    expect(rider.html).toContain('Your whole day');
    const id = await order();
    await rider.get(`/order/${id}`);
    expect(rider.html).toContain('Waiting for the money');
    expect(rider.html).toContain(referenceOf(id));
    expect(rider.html).toContain('Account 00000000');
    const placed = await placedOf(id);
    expect(placed).toMatchObject({ way: 'transfer', totals: { toPay: 4500 }, contact: { name: 'Someone <b>' } });
    expect(placed.consent?.immediateSupply).toMatchObject({ at: day.now(), words: expect.stringMatching(/at once/) });
    await rider.get(`/${MEETING}/basket`);
    expect(rider.html).toContain('Nothing is in the basket yet');
  });

  it('OR31: the basket is on the phone: it survives a reload and another start of the service', async () => {
    await put(dayLine);
    await put(dayLine);
    await put(`one:picture:${pictureId(4)}:1`);
    app = publicApp(day, guards);
    await rider.get(`/${MEETING}/basket`);
    expect(rider.html.match(/Take out:/g)).toHaveLength(2);
    await rider.post(`/${MEETING}/basket`, { do: 'out', line: dayLine });
    await rider.get(`/${MEETING}/basket`);
    expect(rider.html).toContain('£12.00');
    expect(rider.html).not.toContain('Your whole day');
  });

  it('OR24: an order sent again after its answer was lost is the same one', async () => {
    await put(dayLine);
    await rider.get(`/${MEETING}/order`);
    const form = { ...buyer, seen: '4500' };
    // The second tap carries the basket of the first, whose answer has not come yet.
    await Promise.all([rider.post(`/${MEETING}/order`, form), rider.post(`/${MEETING}/order`, form)]);
    expect(rider.status).toBe(303);
    expect(await day.store.orders()).toHaveLength(1);
  });

  it('OR24: a price that changed between form and button orders nothing and says so', async () => {
    await put(dayLine);
    await rider.get(`/${MEETING}/order`);
    const products = offerOfDay.prices.products.map((one) => ({ ...one, price: minorOf(one.price + 500, 'test') }));
    const dearer = { ...offerOfDay, prices: { ...offerOfDay.prices, products } };
    await day.store.write((writes) => writes.putOffer(dearer, day.now()));
    await rider.post(`/${MEETING}/order`, { ...buyer, seen: '4500' });
    expect(rider.html).toContain('look again before you order');
    expect(rider.html).toContain('£50.00');
    expect(await day.store.orders()).toEqual([]);
  });

  it('OR32: without name, address for prints or either tick nothing is ordered, and what was typed stays', async () => {
    await put(dayLine);
    await put(printLine);
    for (const [lack, fields] of [
      ['both ticks', { loss: '' }],
      ['both ticks', { supply: 'maybe' }],
      ['the name', { name: ' ' }],
      ['the e-mail', { mail: 'someone@' }],
      ['how to pay', { way: 'provider' }],
      ['the postal address', { address: '' }],
    ] as const) {
      await order({ address: '1 Paddock Lane', ...fields });
      expect(rider.status).toBe(422);
      expect(rider.html).toContain(`<li>${lack}`);
      if (lack !== 'the e-mail') expect(rider.html).toContain('value="someone@example.org"');
      expect(rider.html).not.toMatch(/type="checkbox"[^>]*checked/);
    }
    expect(await day.store.orders()).toEqual([]);
    const id = await order({ address: '1 Paddock Lane\r\nFallow' });
    expect((await placedOf(id)).contact.address).toBe('1 Paddock Lane\r\nFallow');
  });

  it('OR32: prints alone need no ticks, files alone no address, and none is kept', async () => {
    await put(printLine);
    await rider.get(`/${MEETING}/basket`);
    await rider.post(`/${MEETING}/basket`, { do: 'count', line: printLine, count: '3' });
    const id = await order({ supply: '', loss: '', address: '1 Paddock Lane' });
    expect(await placedOf(id)).toMatchObject({ consent: null, totals: { toPay: 4500 } });
    await put(dayLine);
    expect((await placedOf(await order({ address: 'not asked for' }))).contact.address).toBeNull();
  });

  it('cancels what nobody has paid, and what is paid stays', async () => {
    await put(dayLine);
    const id = await order();
    await rider.get(`/order/${id}`);
    await rider.post(`/order/${id}/cancel`, {});
    expect(await rider.get(`/order/${id}`)).toContain('Cancelled');
  });

  it('OR38: on the van’s screen the order’s page makes room for the next rider, whose basket is empty', async () => {
    await rider.get(`/${MEETING}/van`);
    await put(dayLine);
    const id = await order({ way: 'cash' });
    await rider.get(`/order/${id}`);
    expect(rider.headers.get('refresh')).toMatch(/^\d+; url=\/a{32}\/next$/);
    expect(rider.html).toContain(`Say ${referenceOf(id)} at the van`);
    await put(dayLine);
    expect(await rider.get(`/${MEETING}/order`)).not.toMatch(/autocomplete="(?!off)/);
    expect(rider.headers.get('refresh')).toMatch(/next$/);
    await rider.get(`/${MEETING}/next`);
    expect(await rider.get(`/${MEETING}/basket`)).toContain('Nothing is in the basket');
    for (const path of [`/order/${id}`, `/order/${id}/invoice-T2026-1.pdf`]) {
      await rider.get(path);
      expect(rider.status, path).toBe(404);
    }
    const elsewhere = new Visitor(app);
    await elsewhere.get(`/order/${id}`);
    expect([elsewhere.status, elsewhere.headers.get('refresh')]).toEqual([200, null]);
  });

  it('OR37: a rider is found by colours in the page’s language, by number and by session; what leads to nobody is not offered', async () => {
    const other = {
      ...offerOfDay.riders[0]!,
      publicId: 'd'.repeat(32),
      livery: 'fluorescent yellow bike',
      number: '17',
    };
    const riders = [...offerOfDay.riders, other];
    const sessions = [
      { name: 'N1', riders: [RIDER] },
      { name: 'I1', riders: [other.publicId] },
    ];
    await day.store.write((writes) => writes.putOffer({ ...offerOfDay, riders, sessions }, day.now()));
    const found = async (query: string) =>
      [...(await rider.get(`/${MEETING}?${query}`)).matchAll(/\/rider\/([0-9a-f]{32})/g)].map((one) => one[1]);
    expect(await found('')).toEqual([RIDER, other.publicId]);
    expect(rider.html).toMatch(/<h1 class="unseen"><bdi>Open day/);
    expect(await found('bike=red')).toEqual([RIDER]);
    expect(rider.html).toContain('href="?bike=red+black&amp;session="');
    expect(rider.html).toContain('href="?bike=&amp;session=" aria-current="true"');
    expect(rider.html).not.toContain('session=I1');
    expect(await found('bike=17')).toEqual([other.publicId]);
    expect(await found('bike=1')).toEqual([]);
    expect(rider.html).toContain('Nobody here fits that');
    expect(await found('session=I1')).toEqual([other.publicId]);
    expect(await found('bike=neongelb&language=de')).toEqual([other.publicId]);
  });

  it('a basket holds no more than it can carry, and a cookie that is not ours is an empty one', async () => {
    for (let n = 0; n <= MOST_LINES; n++) await put(`one:picture:${pictureId(n)}:1`);
    expect(rider.html).toContain('A basket holds');
    for (const cookie of ['x', `${'0'.repeat(32)}!!one:picture:../../etc:1`, `${'0'.repeat(32)}!<script>`])
      expect(
        await new Visitor(app).get(`/${MEETING}/basket`, { cookie: `__Host-basket-${MEETING}=${cookie}` }),
      ).toContain('Nothing is in the basket');
  });
});

describe('what is kept from others', () => {
  it('OR28: unknown, gone, guessed and nonsense addresses have one answer', async () => {
    const down = { ...offerOfDay, withdrawn: [pictureId(3)] };
    await day.store.write((writes) => writes.putOffer(down, day.now()));
    const answers = new Set<string>();
    for (const path of [
      `/order/${'0'.repeat(32)}`,
      `/order/${'0'.repeat(32)}/invoice-T2026-1.pdf`,
      '/order/1',
      `/${'0'.repeat(32)}`,
      `/${MEETING}/picture/${'0'.repeat(32)}`,
      `/${MEETING}/picture/${pictureId(3)}`,
      `/${MEETING}/rider/${'0'.repeat(32)}`,
      '/../../etc/passwd',
      '/%2e%2e/%2e%2e/etc/passwd',
      '/webhook/nobody',
      '/nothing',
    ]) {
      const html = await new Visitor(app).get(path);
      answers.add(html);
    }
    expect(answers.size).toBe(1);
    expect([...answers][0]).toContain('There is nothing here');
  });

  it('OR28: who guesses is slowed down, also for what is there', async () => {
    await put(dayLine);
    const id = await order();
    const guesser = new Visitor(app);
    for (let n = 0; n < 60; n++) await guesser.get(`/order/${pictureId(n)}`);
    await guesser.get(`/order/${id}`);
    expect(guesser.status).toBe(429);
    day.turnClock(60_000);
    await guesser.get(`/order/${id}`);
    expect(guesser.status).toBe(200);
  });

  it('OR29: a form without our cookie, with another’s word, or from another site changes nothing', async () => {
    await put(dayLine);
    await rider.get(`/${MEETING}/order`);
    const fields = { ...buyer, seen: '4500' };
    await rider.post(`/${MEETING}/order`, { ...fields, token: '0'.repeat(64) });
    expect(rider.status).toBe(403);
    await rider.get(`/${MEETING}/order`);
    await rider.post(`/${MEETING}/order`, fields, { origin: 'https://elsewhere.example' });
    expect(rider.status).toBe(403);
    const other = new Visitor(app);
    await other.get(`/${MEETING}/rider/${RIDER}`);
    const token = /name="token" value="([0-9a-f]{64})"/.exec(other.html)![1]!;
    await rider.get(`/${MEETING}/order`);
    await rider.post(`/${MEETING}/order`, { ...fields, token });
    expect(rider.status).toBe(403);
    expect(await day.store.orders()).toEqual([]);
  });

  it('OR30: another host, a body too large and names with markup do no harm', async () => {
    await rider.get(`/${MEETING}`, { host: 'evil.example' });
    expect(rider.status).toBe(421);
    await put(dayLine);
    await rider.get(`/${MEETING}/order`);
    await rider.post(`/${MEETING}/order`, { ...buyer, name: 'x'.repeat(70_000) });
    expect(rider.status).toBe(413);
    const id = await order({ name: '"><script>alert(1)</script>', mail: 'no' });
    expect(id).toBe('');
    expect(rider.html).not.toContain('<script');
    expect(rider.html).toContain('&lt;script&gt;');
    expect(await rider.get(`/${MEETING}`)).not.toContain('<b>at</b>');
    expect(await rider.get(`/${MEETING}?bike=%22%3E%3Cimg%20src%3Dx%3E`)).not.toContain('<img src=x');
  });

  it('OR30: the policy allows no script and no frame, cookies are not for scripts, and nothing is kept in between', async () => {
    await rider.get(`/${MEETING}/rider/${RIDER}`);
    const policy = rider.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).toContain('https://pictures.example.org');
    expect(policy).not.toMatch(/unsafe|script-src/);
    expect(rider.headers.get('cache-control')).toBe('no-store');
    expect(rider.headers.get('referrer-policy')).toBe('same-origin');
    const cookies = rider.headers.getSetCookie();
    expect(cookies.length).toBeGreaterThan(0);
    for (const cookie of cookies) expect(cookie).toMatch(/^__Host-.*HttpOnly; Secure; SameSite=Lax/);
    expect(rider.html).not.toMatch(/<script|style=| on[a-z]+=/);
  });
});

describe('the gallery’s forms', () => {
  it('OR33: are kept for the photographer, once a day for the same words, and never more than a visitor may', async () => {
    const path = new URL(messageAddress('https://orders.example.org', MEETING, 'not-me')).pathname;
    const words = { picture: pictureId(1), contact: 'me@example.org', strange: 'x', words: '<script>' };
    // From the gallery's pages, which lie elsewhere and hold no word of ours.
    await rider.post(path, words, { origin: 'https://pictures.example.org' });
    await rider.post(path, words, { origin: 'https://pictures.example.org' });
    expect(rider.status).toBe(200);
    // The gallery's script has to learn that it came through; of all other pages it learns nothing.
    expect(rider.headers.get('cross-origin-resource-policy')).toBe('cross-origin');
    const { picture, contact } = words;
    expect(await day.store.messagesSince(0, 9)).toMatchObject([
      { kind: 'not-me', meeting: MEETING, words: { picture, contact, words: '<script>' } },
    ]);
    for (let n = 0; n < ALLOWANCES.messages.atOnce; n++) await rider.post(path, { words: `${n}` });
    expect(rider.status).toBe(429);
    expect((await day.store.messagesSince(0, 999)).length).toBeLessThan(ALLOWANCES.messages.atOnce);
  });
});

describe('languages', () => {
  it('follow the browser, then what was chosen; Arabic reads from the right', async () => {
    const browser = { 'accept-language': 'xx, fr;q=0.8, de-CH;q=0.9, en;q=0.1' };
    expect(await rider.get(`/${MEETING}/rider/${RIDER}`, browser)).toContain('In den Korb legen');
    expect(await rider.get(`/${MEETING}/basket?language=ar`, browser)).toContain('dir="rtl"');
    expect(await rider.get(`/${MEETING}/basket`, browser)).toContain('lang="ar"');
    expect(await new Visitor(app).get(`/${MEETING}/basket`, { 'accept-language': '*' })).toContain('lang="en"');
  });

  it('OR41: riders, the way back and what was told are in the reader’s language, and a message sent leads on in another', async () => {
    const look = { bike: ['red'], isMulticoloured: false, leathers: 'black', helmet: null } as const;
    const riders = [{ ...offerOfDay.riders[0]!, look }];
    await day.store.write((writes) => writes.putOffer({ ...offerOfDay, language: 'fr', riders }, day.now()));
    expect(await rider.get(`/${MEETING}/rider/${RIDER}?language=ar`)).toContain('<bdi>حمراء، بدلة سوداء</bdi></h1>');
    expect(rider.html).toContain('href="https://pictures.example.org/day/ar/"');
    expect(rider.html).toContain('href="https://pictures.example.org/day/ar/privacy.html"');
    expect(await rider.get(`/${MEETING}?language=fr`)).toContain('href="https://pictures.example.org/day/"');
    await rider.post(`/${MEETING}/cannot-find-me?language=de`, { words: 'helm' });
    expect(rider.html).toContain('Gesucht wird nach Turn');
    await rider.post(`/${MEETING}/take-down?language=de`, { rider: RIDER });
    expect(rider.html).not.toContain('Gesucht wird');
    await rider.get(`/${MEETING}/cannot-find-me?language=it`);
    expect([rider.status, rider.location]).toEqual([302, `/${MEETING}?language=it`]);
  });

  it('OR41: single pictures of one name are told apart in basket and order, and what was taken down is not shown', async () => {
    for (const n of [1, 2]) await put(`one:picture:${pictureId(n)}:1`);
    const shown = (n: number) => `/day/small/${pictureId(n)}.jpg`;
    for (const n of [1, 2]) expect(await rider.get(`/${MEETING}/basket`)).toContain(shown(n));
    const id = await order();
    await day.store.write((writes) =>
      writes.putOffer({ ...offerOfDay, withdrawn: [pictureId(2) as never] }, day.now()),
    );
    expect(await rider.get(`/order/${id}`)).toContain(shown(1));
    expect(rider.html).not.toContain(shown(2));
  });
});

describe('a provider', () => {
  const key = Buffer.alloc(32, 1);
  let server: Server;
  let provider: PaymentProvider;
  const asked: { body: Record<string, unknown>; key: string | undefined; bearer: string | undefined }[] = [];
  beforeEach(async () => {
    asked.length = 0;
    server = createServer((request, response) => {
      const chunks: Buffer[] = [];
      request.on('data', (chunk: Buffer) => chunks.push(chunk));
      request.on('end', () => {
        const body = JSON.parse(Buffer.concat(chunks).toString()) as Record<string, unknown>;
        const { authorization, 'idempotency-key': idempotency } = request.headers;
        asked.push({ body, key: idempotency?.toString(), bearer: authorization });
        response.setHeader('content-type', 'application/json');
        response.end(JSON.stringify({ address: `http://${request.headers.host}/pay/${asked.length}` }));
      });
    });
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    const start = `http://127.0.0.1:${(server.address() as AddressInfo).port}/begin`;
    provider = jsonProvider({ key: 'made-up', name: 'Made-up Pay', start, bearer: 'word' }, [key]);
    await day.store.close();
    await open(offerOfDay, provider);
    return () => void server.close();
  });

  const tell = async (body: unknown, { id = 'msg_1', signedBy = key, at = day.now() as number } = {}) => {
    const text = JSON.stringify(body);
    const timestamp = String(Math.floor(at / 1000));
    const headers = {
      host: 'orders.example.org',
      'webhook-id': id,
      'webhook-timestamp': timestamp,
      'webhook-signature': signWebhook(signedBy, id, timestamp, text),
    };
    return (await app.request('/webhook/made-up', { method: 'POST', headers, body: text })).status;
  };
  const event = (type: string, order: OrderId, reference = 'p1') => ({
    type,
    timestamp: '2026-09-20T18:00:00Z',
    data: { order, amount: 4500, currency: 'GBP', reference },
  });

  it('is asked for the rest, sends the buyer on, and tells by a signed webhook; twice is once', async () => {
    await put(dayLine);
    const id = await order({ way: 'provider' });
    await rider.get(`/order/${id}`);
    expect(rider.headers.get('content-security-policy')).toContain(`form-action 'self' ${provider.origin}`);
    await rider.post(`/order/${id}/pay`, {});
    expect(rider.location).toBe(`${provider.origin}/pay/1`);
    expect(asked).toMatchObject([{ key: `${id}-0`, bearer: 'Bearer word', body: { amount: 4500, currency: 'GBP' } }]);
    expect(JSON.stringify(asked)).not.toContain('someone@example.org');
    expect(await tell(event('payment.succeeded', id))).toBe(204);
    expect(await tell(event('payment.succeeded', id))).toBe(204);
    expect(await tell(event('payment.succeeded', id), { id: 'msg_2' })).toBe(204);
    expect(stateOf(id, await day.store.factsOf(id))).toMatchObject({ standing: 'paid', paid: 4500 });
    const html = await rider.get(`/order/${id}`);
    const pdf = /href="([^"]+invoice-T2026-1\.pdf)"/.exec(html)![1]!;
    expect((await rider.get(pdf)).slice(0, 5)).toBe('%PDF-');
  });

  it('OR23, OR25: forged, old and meaningless webhooks change nothing', async () => {
    await put(dayLine);
    const id = await order({ way: 'provider' });
    const paid = event('payment.succeeded', id);
    expect(await tell(paid, { signedBy: Buffer.alloc(32, 2) })).toBe(401);
    expect(await tell(paid, { at: day.now() - 301_000 })).toBe(401);
    expect(
      (await app.request('/webhook/made-up', { method: 'POST', headers: { host: 'orders.example.org' }, body: '{}' }))
        .status,
    ).toBe(401);
    expect(await tell({ type: 'payment.succeeded', data: { order: id, amount: -1 } })).toBe(422);
    expect(await tell({ ...paid, data: { ...paid.data, currency: 'EUR' } })).toBe(422);
    expect(await tell({ type: 'customer.created', data: {} })).toBe(204);
    expect(stateOf(id, await day.store.factsOf(id)).paid).toBe(0);
  });

  it('that cannot be reached says so, and the order waits', async () => {
    await put(dayLine);
    const id = await order({ way: 'provider' });
    await rider.get(`/order/${id}`);
    await new Promise((done) => server.close(done).closeAllConnections());
    await rider.post(`/order/${id}/pay`, {});
    expect(rider.status).toBe(502);
    expect(stateOf(id, await day.store.factsOf(id)).standing).toBe('waiting-for-money');
  });
});

it('a part of the service has its own addresses, its say on the order’s page, and hears what was told', async () => {
  const heard: string[] = [];
  const part = {
    addTo: (one: Hono) => void one.get('/hand/on', (context) => context.text('here')),
    addToAdmin: () => undefined,
    onOrderPage: () => Promise.resolve('a part of its own' as never),
    told: (id: string | null) => void heard.push(id ?? ''),
    start: () => undefined,
    close: () => Promise.resolve(),
  };
  app = publicApp({ ...day, parts: [part] }, guards);
  rider = new Visitor(app);
  expect(await rider.get('/hand/on')).toBe('here');
  await put(dayLine);
  const id = await order();
  expect(await rider.get(`/order/${id}`)).toContain('a part of its own');
  expect(heard).toEqual([id]);
  expect(pictureAddress('https://orders.example.org', MEETING, pictureId(1))).toBe(
    `https://orders.example.org/${MEETING}/picture/${pictureId(1)}`,
  );
});
