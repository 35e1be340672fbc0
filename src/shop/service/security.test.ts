/** What docs/security.md promises and no other test shows: OR28, OR30, OR33–OR35 of docs/rules/orders.md, HD12 of handing.md. */
import { chmod, mkdtemp, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inspect } from 'node:util';
import type { Hono } from 'hono';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { minorOf } from '../../core/handover/orders/index.js';
import { readMailSettings } from '../handing/mail/mailSettings.js';
import { sendParts } from '../handing/sendParts.js';
import { paid } from '../handing/testing.js';
import { MEETING, pictureId, type ShopDay, shopDay } from '../testing/shopDay.js';
import { HOST, Visitor } from '../testing/visitor.js';
import { isPassword } from './adminKeys.js';
import { openDataFolder } from './dataFolder.js';
import { ALLOWANCES } from './guards.js';
import { publicApp } from './publicApp.js';

let day: ShopDay;
let app: Hono;
let rider: Visitor;
beforeEach(async () => {
  day = await shopDay();
  app = publicApp(day, { isBehindProxy: false, hosts: [] });
  rider = new Visitor(app);
  await rider.get(`/${MEETING}/picture/${pictureId(1)}`);
  await rider.post(`/${MEETING}/basket`, { do: 'put', line: `one:picture:${pictureId(1)}:1` });
  await rider.get(`/${MEETING}/basket`);
  return () => day.store.close();
});

describe('OR28: codes of vouchers cannot be tried through', () => {
  const tryCode = async (code: string) => {
    await rider.get(`/${MEETING}/picture/${pictureId(1)}`);
    await rider.post(`/${MEETING}/basket`, { do: 'code', code });
    return rider.get(`/${MEETING}/basket`);
  };
  beforeEach(async () => {
    const worth = { kind: 'prepaid', worth: minorOf(4500, ''), reference: 'B-17' } as const;
    await day.store.write((writes) => writes.putVoucher(MEETING, { code: 'B17', ...worth, uses: 1, expiresAt: null }));
  });

  it('after ten unknown ones a good one waits, too, in the basket and in the form', async () => {
    for (let n = 0; n < ALLOWANCES.codes.atOnce; n++) expect(await tryCode(`B${n}`)).toContain('not known here');
    await tryCode('B17');
    expect(rider.status).toBe(429);
    await rider.get(`/${MEETING}/order`);
    expect(rider.status).toBe(429);
    day.turnClock(1000 / ALLOWANCES.codes.perSecond);
    expect(await rider.get(`/${MEETING}/basket`)).toContain('Paid before');
  });

  it('one that is not known is said once and forgotten, so that looking again counts nothing', async () => {
    expect(await tryCode('B1')).toContain('not known here');
    for (let n = 0; n < 30; n++) expect(await rider.get(`/${MEETING}/basket`)).not.toContain('not known here');
    expect(rider.status).toBe(200);
  });
});

it('OR28: what a phone asks for by itself is no guess', async () => {
  for (let n = 0; n < 60; n++)
    for (const path of ['/favicon.ico', '/apple-touch-icon-120x120-precomposed.png', '/.well-known/x'])
      await rider.get(path);
  expect(rider.status).toBe(404);
  await rider.get(`/${MEETING}`);
  expect(rider.status).toBe(200);
});

it('OR34: a data folder that was there before is closed to others', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-data-'));
  await chmod(folder, 0o755);
  await openDataFolder(folder);
  expect((await stat(folder)).mode & 0o077).toBe(0);
  await rm(folder, { recursive: true });
});

it('OR34: settings that are no JSON are said without a word of what they hold', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-data-'));
  // Short enough to be quoted whole by the parser.
  await writeFile(join(folder, 'settings.json'), '{"secret":hush}');
  await writeFile(join(folder, 'mail.json'), '{\n"password":"hush"\n"v":1}');
  for (const [open, where] of [
    [openDataFolder, /Expected JSON in .*settings\.json but got something else\. Mend it/],
    [readMailSettings, /Expected JSON in .*mail\.json but got something else in line 3\. Mend it/],
  ] as const) {
    const error = (await open(folder).catch((reason: Error) => reason)) as Error;
    expect(error.message).toMatch(where);
    expect(inspect(error)).not.toContain('hush');
  }
  await rm(folder, { recursive: true });
});

it('OR30: papers are drawn no more often than orders may be changed', async () => {
  const order = await paid(day);
  const { token } = rider;
  const html = await rider.get(`/order/${order}`);
  const paper = /href="([^"]+\.pdf)"/.exec(html)![1]!;
  await rider.get(paper);
  expect(rider.status).toBe(200);
  for (let n = 0; n < ALLOWANCES.orders.atOnce; n++) await rider.post(`/order/${order}/cancel`, { token });
  await rider.get(paper);
  expect(rider.status).toBe(429);
});

it('OR30: a request line that names another host counts, whatever the head says (RFC 9112, 3.2.2)', async () => {
  const status = async (url: string) => {
    const incoming = { url, socket: { remoteAddress: '127.0.0.1' } };
    return (await app.request(`/${MEETING}`, { headers: { host: HOST } }, { incoming })).status;
  };
  expect(await status(`/${MEETING}`)).toBe(200);
  expect(await status(`https://${HOST}/${MEETING}`)).toBe(200);
  expect(await status(`http://evil.example/${MEETING}`)).toBe(421);
  expect(await status('*')).toBe(421);
});

it('OR33: a form in which nothing is said, or which is no form, is not taken for a message', async () => {
  await rider.post(`/${MEETING}/not-me`, { words: ' ' });
  expect(rider.status).toBe(400);
  await rider.post(`/${MEETING}/not-me`, {}, { 'content-type': 'multipart/form-data; boundary=' });
  expect(rider.status).toBe(400);
  expect(await day.store.messagesSince(0, 9)).toEqual([]);
});

it('OR35: passwords are checked as Argon2 has it', async () => {
  // Test vector of the reference implementation (P-H-C/phc-winner-argon2, src/test.c): argon2id, version 19, t = 2, m = 2^8, p = 1.
  const encoded = '$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4';
  expect(await isPassword('password', encoded)).toBe(true);
  expect(await isPassword('passwore', encoded)).toBe(false);
  expect(await isPassword('password', encoded.replace('nf65', 'of65'))).toBe(false);
  expect(await isPassword('password', encoded.replace('argon2id', 'argon2i'))).toBe(false);
});

it('HD12: an answer that is cut off says no path', async () => {
  const said = vi.spyOn(console, 'error').mockImplementation(() => undefined);
  const path = '/nowhere/finals/secret.jpg';
  const file = { bytes: 5, tag: 't', type: 'image/jpeg', name: 'x.jpg', onTaken: () => Promise.resolve() };
  const answer = sendParts(new Request('https://x/1.jpg'), { parts: [{ at: 0, bytes: 5, path }], ...file });
  await expect(answer.text()).rejects.toThrow(/^The answer was cut off/);
  // Whoever runs it has to know which.
  expect(said.mock.calls.join()).toContain(path);
  said.mockRestore();
});
