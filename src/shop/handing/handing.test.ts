/** Rules HD1–HD16 of docs/rules/handing.md, through the service's own addresses. */
import { createHash } from 'node:crypto';
import { stat } from 'node:fs/promises';
import { get } from 'node:http';
import type { AddressInfo } from 'node:net';
import { dirname } from 'node:path';
import { serve } from '@hono/node-server';
import type { Hono } from 'hono';
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { Offer, OrderId } from '../../core/handover/orders/index.js';
import { offerOfDay, pictureId } from '../testing/shopDay.js';
import { Visitor } from '../testing/visitor.js';
import {
  dayOfRider,
  type HandingDay,
  type HandingDaySpec,
  handingDay,
  noiseMaker,
  oneOf,
  paid,
  placed,
  stateNow,
  tell,
} from './testing.js';

const DAY_MS = 86_400_000;
const HOST = 'orders.example.org';
let here: HandingDay;
const open = async (spec: HandingDaySpec = {}) => {
  here = await handingDay(spec);
};
afterEach(() => here.close());

const ask = (path: string, headers: Record<string, string> = {}, method = 'GET') =>
  here.app.request(path, { method, headers: { host: HOST, ...headers } });
const adminAsk = async (method: string, path: string, body?: unknown) => {
  const answer = await here.admin.request(path, {
    method,
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const text = await answer.text();
  return { status: answer.status, json: text === '' ? null : JSON.parse(text) };
};
const linkOf = async (order: OrderId, picture: string | null = null): Promise<string> => {
  const { status, json } = await adminAsk('POST', `/api/handing/${order}/link`, { picture });
  expect(status, JSON.stringify(json)).toBe(200);
  return new URL(json.address).pathname;
};
const handedOver = async (order: OrderId) =>
  (await here.day.store.factsOf(order)).flatMap(({ fact }) =>
    fact.kind === 'handed-over' ? [[fact.what, fact.bytes]] : [],
  );
const guessed: Offer = {
  ...offerOfDay,
  riders: offerOfDay.riders.map((rider) => ({ ...rider, isJoinedByGuess: true })),
};

describe('what was paid', () => {
  it('HD13: is made, and then there is one link, whoever asks how often', async () => {
    const maker = noiseMaker();
    await open({ maker });
    const order = await placed(here.day);
    await here.settle();
    expect([maker.calls, (await stateNow(here.day, order)).link]).toEqual([[], null]);
    await tell(here.day, order, { kind: 'paid', amount: 4500 as never, way: 'cash', reference: '' });
    await Promise.all([here.settle(), here.settle(), here.settle()]);
    expect(maker.calls.map((pictures) => [...pictures].sort())).toEqual([[pictureId(1), pictureId(2)]]);
    expect((await stateNow(here.day, order)).link).toMatchObject({ generation: 1, isRevoked: false });
    expect(await linkOf(order)).toBe(await linkOf(order));
  });

  it('HD19: what is told of one order looks for no other’s pictures; a round over all does', async () => {
    await open({ maker: null });
    for (const n of [1, 2, 3]) await paid(here.day, [oneOf(n)]);
    await here.handing.work();
    const want = vi.spyOn(here.finals, 'want');
    const looked = () => want.mock.calls.splice(0).map(([{ picture }]) => picture);
    here.handing.told(await paid(here.day, [oneOf(4)]));
    await vi.waitFor(() => expect(want).toHaveBeenCalled());
    await here.handing.work();
    const all = [1, 2, 3, 4].map(pictureId);
    expect(looked()).toEqual([pictureId(4), ...all]);
    await here.handing.work();
    expect(looked()).toEqual(all);
  });

  it('HD5: is handed over as a page, single pictures and a zip, and each is a fact once', async () => {
    await open();
    const order = await paid(here.day);
    await here.settle();
    const link = await linkOf(order);
    for (const _ of [1, 2]) {
      const page = await ask(link);
      expect([page.status, page.headers.get('cache-control')]).toEqual([200, 'no-store']);
      const html = await page.text();
      expect(html).toContain(`${link}/all.zip`);
      expect(html).not.toContain(order);
      const one = await ask(`${link}/1.jpg`);
      expect(one.headers.get('content-disposition')).toContain('2026-09-19-001.jpg');
      const bytes = Buffer.from(await one.arrayBuffer());
      const final = await here.store.find({ picture: pictureId(1), licence: 'personal', longEdgePx: null });
      expect(createHash('sha256').update(bytes).digest('hex')).toBe(final!.sha256);
      const zip = await ask(`${link}/all.zip`);
      expect((await zip.arrayBuffer()).byteLength).toBe(Number(zip.headers.get('content-length')));
      expect(await handedOver(order)).toEqual([
        ['page', 0],
        ['picture', bytes.length],
        ['zip', Number(zip.headers.get('content-length'))],
      ]);
    }
    expect((await ask(`${link}/3.jpg`)).status).toBe(404);
  });

  it('HD5: a zip that was cut off is no fact of a zip', async () => {
    await open({ maker: noiseMaker(900_000) });
    const order = await paid(here.day);
    await here.settle();
    const reader = (await ask(`${await linkOf(order)}/all.zip`)).body!.getReader();
    await reader.read();
    await reader.cancel();
    expect(await handedOver(order)).toEqual([]);
  });

  it('HD10: the zip of another link of the same set is the same, so it may be gone on with', async () => {
    await open();
    const order = await paid(here.day, [dayOfRider, oneOf(4, 'press')]);
    await here.settle();
    const first = await ask(`${await linkOf(order)}/all.zip`);
    here.day.turnClock(29 * DAY_MS);
    const link = await linkOf(order);
    const rest = await ask(`${link}/all.zip`, { range: 'bytes=1000-', 'if-range': first.headers.get('etag')! });
    expect([rest.status, rest.headers.get('etag')]).toEqual([206, first.headers.get('etag')]);
    const whole = Buffer.from(await first.arrayBuffer());
    expect(Buffer.from(await rest.arrayBuffer()).equals(whole.subarray(1000))).toBe(true);
    for (const name of [
      '2026-09-19-001.jpg',
      '2026-09-20-003-press.jpg',
      'terms.txt',
      'For reporting (Open day',
      'Trackside Pictures',
    ])
      expect(whole.includes(name), name).toBe(true);
  });

  it('HD14: of which one cannot be made, the rest is handed over and that one is said', async () => {
    const maker = noiseMaker();
    maker.refuses.add(pictureId(2));
    await open({ maker });
    const order = await paid(here.day);
    await here.settle();
    const html = await (await ask(await linkOf(order))).text();
    expect(html).toContain('Could not be made: 1.');
    expect(html).toMatch(/1\.jpg/);
    expect(html).not.toMatch(/2\.jpg/);
    const { json } = await adminAsk('GET', '/api/handing');
    expect(json.waiting).toMatchObject([
      { order, notMade: [{ picture: pictureId(2), sentence: 'The card is gone.' }] },
    ]);
    maker.refuses.clear();
    await adminAsk('POST', '/api/finals/again');
    await ask(await linkOf(order));
    await here.settle();
    expect(await (await ask(await linkOf(order))).text()).toMatch(/2\.jpg/);
  });

  it('HD16: waits where there are no originals, says so, and goes on once they were brought', async () => {
    await open({ maker: null });
    const order = await paid(here.day, [oneOf(4)]);
    await here.settle();
    expect((await stateNow(here.day, order)).link).toBeNull();
    const rider = new Visitor(here.app);
    expect(await rider.get(`/order/${order}`)).toContain('photographer’s laptop');
    const wish = { picture: pictureId(4), licence: 'personal', longEdgePx: null } as const;
    expect((await adminAsk('GET', '/api/finals')).json.wanted).toMatchObject([wish]);
    const { json } = await adminAsk('GET', '/api/handing');
    expect(json.waiting).toMatchObject([{ order, toCome: 1, signs: null }]);
  });
});

describe('a link', () => {
  const wordsOf = async (path: string, headers: Record<string, string> = {}) => {
    const answer = await ask(path, headers);
    return [answer.status, /<h1><bdi>(.*)<\/bdi><\/h1>/.exec(await answer.text())?.[1]];
  };

  it('HD1: forged, cut off or of nobody is answered as any address that never was', async () => {
    await open();
    const order = await paid(here.day);
    await here.settle();
    const link = await linkOf(order);
    const never = await ask(`/${'0'.repeat(32)}`);
    const said = await never.text();
    for (const forged of [
      link.slice(0, -1),
      `${link.slice(0, -1)}${link.endsWith('A') ? 'E' : 'A'}`,
      `/handed/${'a'.repeat(100)}`,
    ]) {
      for (const path of [forged, `${forged}/all.zip`, `${forged}/1.jpg`]) {
        const answer = await ask(path);
        expect([answer.status, await answer.text()], path).toEqual([never.status, said]);
      }
      expect((await ask(`${forged}/renew`, {}, 'POST')).status).toBe(404);
    }
  });

  it('HD2, HD3: that has run out says so; a fresh one is shown to nobody, and without letters stands on the order’s page', async () => {
    await open();
    const order = await paid(here.day);
    await here.settle();
    const link = await linkOf(order);
    here.day.turnClock(31 * DAY_MS);
    for (const path of [link, `${link}/all.zip`, `${link}/1.jpg`])
      expect(await wordsOf(path)).toEqual([410, 'This link has run out']);
    const renewed = await (await ask(`${link}/renew`, {}, 'POST')).text();
    expect(renewed).not.toMatch(/handed\//);
    expect((await stateNow(here.day, order)).link?.generation).toBe(1);
  });

  it('HD4: that was taken back says so, and is not renewed by who has it', async () => {
    await open();
    const order = await paid(here.day);
    await here.settle();
    const link = await linkOf(order);
    expect((await adminAsk('POST', `/api/handing/${order}/revoke`)).status).toBe(204);
    for (const path of [link, `${link}/all.zip`, `${link}/1.jpg`])
      expect(await wordsOf(path)).toEqual([410, 'This link was taken back']);
    await ask(`${link}/renew`, {}, 'POST');
    expect((await stateNow(here.day, order)).link).toMatchObject({ generation: 1, isRevoked: true });
    const fresh = await linkOf(order);
    expect((await wordsOf(fresh))[0]).toBe(200);
    expect((await wordsOf(link))[1]).toBe('This link was taken back');
  });

  it('HD2: to one picture opens that picture alone', async () => {
    await open();
    const order = await paid(here.day);
    await here.settle();
    const link = await linkOf(order, pictureId(2));
    expect((await ask(`${link}/2.jpg`)).status).toBe(200);
    expect((await ask(`${link}/1.jpg`)).status).toBe(404);
    expect((await adminAsk('POST', `/api/handing/${order}/link`, { picture: pictureId(4) })).status).toBe(404);
  });

  it('HD5: of an order that was paid back or taken down gives nothing any more, and its finals are gone', async () => {
    await open();
    const order = await paid(here.day);
    await here.settle();
    const link = await linkOf(order);
    await tell(here.day, order, { kind: 'withdrawn', pictures: [pictureId(1)], why: 'taken-down' });
    expect((await ask(`${link}/1.jpg`)).status).toBe(404);
    const zip = Buffer.from(await (await ask(`${link}/all.zip`)).arrayBuffer());
    expect([zip.includes('-001.jpg'), zip.includes('-002.jpg')]).toEqual([false, true]);
    await here.day.store.write((writes) =>
      writes.putOffer({ ...offerOfDay, withdrawn: [pictureId(2)] }, here.day.now()),
    );
    await here.settle();
    expect(await wordsOf(link)).toEqual([410, 'There is nothing to fetch here any more']);
    expect(await here.store.find({ picture: pictureId(2), licence: 'personal', longEdgePx: null })).toBeNull();
    const other = await paid(here.day, [oneOf(4)]);
    await here.settle();
    const theirs = await linkOf(other);
    await tell(here.day, other, { kind: 'refunded', amount: 1200 as never, why: 'wrong-rider', reference: '' });
    expect(await wordsOf(`${theirs}/all.zip`)).toEqual([410, 'There is nothing to fetch here any more']);
  });

  it('speaks the language of the order, or the one asked for, right to left where it is read so', async () => {
    await open();
    const order = await paid(here.day, [dayOfRider], undefined, 'de');
    await here.settle();
    const link = await linkOf(order);
    expect(await wordsOf(link)).toEqual([200, 'Ihre Bilder']);
    const arabic = await (await ask(`${link}?language=ar`)).text();
    expect(arabic).toContain('<html lang="ar" dir="rtl">');
    expect(arabic).not.toContain('<b>at</b>');
  });
});

describe('a set that was joined by guess', () => {
  const both = [pictureId(1), pictureId(2)];
  const sign = (order: OrderId, by: string, isSecondLook = false, pictures: readonly string[] = both) =>
    adminAsk('POST', `/api/handing/${order}/sign`, { by, pictures, isSecondLook });

  it('HD7: may be looked through twice by one person, which is said as such', async () => {
    await open({ offer: guessed });
    const order = await paid(here.day);
    expect((await sign(order, 'Ann', true)).json).toMatchObject({ kind: 'waits', signedBy: [] });
    expect((await sign(order, 'Ann')).json).toEqual({ kind: 'open' });
    const { signs } = await stateNow(here.day, order);
    expect(signs.map(({ by, isSecondLook }) => [by, isSecondLook])).toEqual([
      ['Ann', true],
      ['Ann', false],
    ]);
  });

  it('HD8: a sign is of the pictures of now and no others; a set that changed waits for new ones', async () => {
    await open({ offer: guessed });
    const order = await paid(here.day);
    await here.settle();
    const short = await sign(order, 'Ann', false, [pictureId(1)]);
    expect([short.status, short.json.problem]).toEqual([
      409,
      'Expected a sign of the 2 pictures of now, but it is of 1 and not of the same. Look through the set again and sign that.',
    ]);
    await sign(order, 'Ann');
    await sign(order, 'Bo');
    const link = await linkOf(order);
    await tell(here.day, order, { kind: 'withdrawn', pictures: [pictureId(1)], why: 'wrong-rider' });
    expect((await ask(link)).status).toBe(409);
    expect((await ask(`${link}/all.zip`)).status).toBe(409);
    await sign(order, 'Ann', false, [pictureId(2)]);
    await sign(order, 'Bo', false, [pictureId(2)]);
    expect((await ask(link)).status).toBe(200);
  });

  it('HD6: single pictures wait for nobody, and neither does a rider somebody confirmed since', async () => {
    await open({ offer: guessed });
    const single = await paid(here.day, [oneOf(1)]);
    const set = await paid(here.day);
    await here.settle();
    expect([(await stateNow(here.day, single)).link, (await stateNow(here.day, set)).link]).toEqual([
      expect.anything(),
      null,
    ]);
    await here.day.store.write((writes) => writes.putOffer(offerOfDay, here.day.now()));
    await here.settle();
    expect((await stateNow(here.day, set)).link).not.toBeNull();
  });
});

describe('over a line that breaks', () => {
  it('HD10: a zip that is cut off at fifty places and gone on with is the same, byte for byte', async () => {
    await open({ maker: noiseMaker(2_000_000) });
    const order = await paid(here.day);
    await here.settle();
    const link = await linkOf(order);
    const whole = Buffer.from(await (await ask(`${link}/all.zip`)).arrayBuffer());
    const server = serve({ fetch: hosted(here.app).fetch, port: 0, hostname: '127.0.0.1' });
    try {
      await new Promise((done) => server.once('listening', done));
      const { port } = server.address() as AddressInfo;
      const cuts = Array.from({ length: 50 }, () => 1 + Math.floor(Math.random() * (whole.length - 2))).sort(
        (a, b) => a - b,
      );
      const got: Buffer[] = [];
      let tag: string | undefined;
      for (const until of [...cuts, whole.length]) {
        const from = got.reduce((sum, piece) => sum + piece.length, 0);
        if (until <= from) continue;
        const piece = await fetchUntil(`http://127.0.0.1:${port}${link}/all.zip`, from, until, tag);
        tag ??= piece.tag;
        expect(piece.tag).toBe(tag);
        got.push(piece.bytes);
      }
      expect(got.length).toBeGreaterThan(20);
      expect(Buffer.concat(got).equals(whole)).toBe(true);
    } finally {
      await new Promise((done) => server.close(done));
    }
    expect((await handedOver(order)).filter(([what]) => what === 'zip')).toEqual([['zip', whole.length]]);
  });
});

/** As behind a proxy that says the site's own host. */
const hosted = (app: Hono) => ({
  fetch: (request: Request, env: object) => {
    const headers = new Headers(request.headers);
    headers.set('host', HOST);
    return app.fetch(new Request(request.url, { headers, method: request.method }), env);
  },
});

/** Takes what comes until it has that much, then breaks the line. It may have got more by then. */
function fetchUntil(url: string, from: number, until: number, tag: string | undefined) {
  return new Promise<{ bytes: Buffer; tag: string }>((resolve, reject) => {
    const headers = from === 0 ? {} : { range: `bytes=${from}-`, 'if-range': tag! };
    const request = get(url, { headers, agent: false }, (response) => {
      const got: Buffer[] = [];
      let bytes = 0;
      if (response.statusCode !== (from === 0 ? 200 : 206)) reject(new Error(`${response.statusCode}`));
      const finish = () => resolve({ bytes: Buffer.concat(got), tag: String(response.headers.etag) });
      response.on('data', (piece: Buffer) => {
        const room = until - from - bytes;
        got.push(piece.subarray(0, room));
        bytes += Math.min(room, piece.length);
        if (bytes < until - from || from + bytes === wholeOf(response.headers)) return;
        request.destroy();
        finish();
      });
      response.on('end', finish);
      response.on('error', () => undefined);
    });
    request.on('error', () => undefined);
  });
}

const wholeOf = (headers: Record<string, string | string[] | undefined>): number =>
  Number(String(headers['content-range'] ?? `/${headers['content-length']}`).split('/')[1]);

it('HD13: finals are readable by the service’s user alone', async () => {
  await open();
  await paid(here.day, [oneOf(4)]);
  await here.settle();
  const final = await here.store.find({ picture: pictureId(4), licence: 'personal', longEdgePx: null });
  for (const folder of [dirname(final!.path), dirname(dirname(final!.path))])
    expect((await stat(folder)).mode & 0o077, folder).toBe(0);
});
