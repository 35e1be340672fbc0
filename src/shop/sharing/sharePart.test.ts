/** Rules OG29–OG31 of docs/rules/organiser.md. */
import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hashPassword } from '../service/adminKeys.js';
import { publicApp } from '../service/publicApp.js';
import { type ShopDay, shopDay } from '../testing/shopDay.js';
import { Visitor } from '../testing/visitor.js';
import { sharePart } from './sharePart.js';

const ID = 'd'.repeat(32);
const PASSWORD = 'three wet umbrellas';
const FILE = '01-20260919-104312-hx7-c4-0047.jpg';

let folder: string;
let day: ShopDay;
let visitor: Visitor;
let app: ConstructorParameters<typeof Visitor>[0];
const shareWith = async (more: Record<string, unknown> = {}) => {
  const share = {
    v: 1,
    id: ID,
    title: 'Ebbstone: pictures for <Ebbstone Riders>',
    passwordHash: await hashPassword(PASSWORD),
    expiresAt: null,
    terms: { may: ['Show them.'], mayNot: ['Sell them.'], duties: ['Set the credit.'], note: 'Check with local law.' },
    pictures: [{ number: 1, file: FILE, caption: 'No. 46, <b>Superstock</b>' }],
    ...more,
  };
  await writeFile(join(folder, ID, 'share.json'), JSON.stringify(share));
};

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-shares-'));
  for (const name of ['pictures', 'small']) {
    await mkdir(join(folder, ID, name), { recursive: true });
    await writeFile(join(folder, ID, name, FILE), `bytes of ${name}`);
  }
  await writeFile(join(folder, ID, 'terms.txt'), 'terms');
  await writeFile(join(folder, 'secret.txt'), 'secret');
  await shareWith();
  day = await shopDay();
  app = publicApp({ ...day, parts: [sharePart(day, folder)] }, { isBehindProxy: false, hosts: [] });
  visitor = new Visitor(app);
});
afterEach(async () => {
  await day.store.close();
  await rm(folder, { recursive: true });
});

const letIn = async (password = PASSWORD) => {
  await visitor.get(`/for/${ID}`);
  await visitor.post(`/for/${ID}`, { password });
};

describe('OG29: the organiser’s page', () => {
  it('tells nothing before the password: not whose it is, and no picture', async () => {
    await visitor.get(`/for/${ID}`);
    expect(visitor.status).toBe(200);
    expect(visitor.html).not.toContain('Ebbstone');
    for (const path of [`pictures/${FILE}`, `small/${FILE}`, 'papers/terms.txt']) {
      await visitor.get(`/for/${ID}/${path}`);
      expect(visitor.status).toBe(404);
    }
  });

  it('shows terms before pictures, and gives the files, after it', async () => {
    await letIn();
    expect([visitor.status, visitor.location]).toEqual([303, `/for/${ID}`]);
    await visitor.get(`/for/${ID}`);
    expect(visitor.html).toContain('&lt;Ebbstone Riders&gt;');
    expect(visitor.html).not.toContain('<b>Superstock');
    expect(visitor.html.indexOf('Sell them.')).toBeLessThan(visitor.html.indexOf(FILE));
    expect(visitor.html.indexOf('Sell them.')).toBeGreaterThan(0);
    expect(await visitor.get(`/for/${ID}/pictures/${FILE}`)).toBe('bytes of pictures');
    expect(visitor.headers.get('content-disposition')).toBe(`attachment; filename="${FILE}"`);
    expect(await visitor.get(`/for/${ID}/small/${FILE}`)).toBe('bytes of small');
    expect(visitor.headers.get('cache-control')).toBe('private, no-store');
    expect(await visitor.get(`/for/${ID}/papers/terms.txt`)).toBe('terms');
  });

  it('gives nothing its list does not name, whatever is asked', async () => {
    await letIn();
    await writeFile(join(folder, ID, 'pictures', 'other.jpg'), 'not listed');
    await symlink(join(folder, 'secret.txt'), join(folder, ID, 'small', 'link.jpg'));
    for (const path of [
      'pictures/other.jpg',
      'small/link.jpg',
      'papers/share.json',
      'papers/..%2F..%2Fsecret.txt',
      'pictures/..%2Fshare.json',
      'pictures/%2e%2e/share.json',
    ]) {
      await visitor.get(`/for/${ID}/${path}`);
      expect([path, visitor.status]).toEqual([path, 404]);
    }
  });

  it('answers alike for what never was, what is damaged and what is over', async () => {
    const never = await visitor.get(`/for/${'e'.repeat(32)}`);
    await shareWith({ pictures: [{ number: 1, file: '../../secret.txt', caption: '' }] });
    expect(await visitor.get(`/for/${ID}`)).toBe(never);
    await shareWith({ expiresAt: day.now() });
    expect(await visitor.get(`/for/${ID}`)).toBe(never);
    await shareWith({ expiresAt: day.now() + 1 });
    expect(await visitor.get(`/for/${ID}`)).not.toBe(never);
  });
});

describe('OG33: the languages of the organiser’s page', () => {
  const german = { may: ['Zeigen.'], mayNot: ['Verkaufen.'], duties: ['Nennen.'], note: 'Es gilt der englische Text.' };

  it('are the visitor’s, before the password and after it, with the terms laid for that language', async () => {
    await shareWith({ translations: { de: german } });
    expect(await visitor.get(`/for/${ID}`, { 'accept-language': 'de-AT' })).toContain('<html lang="de"');
    expect(visitor.html).toContain('Das Passwort');
    await letIn();
    const page = await visitor.get(`/for/${ID}?language=de`);
    expect(page).toContain('Verkaufen.');
    expect(page).toContain('Es gilt der englische Text.');
    expect(page).not.toContain('Sell them.');
    expect(await visitor.get(`/for/${ID}`)).toContain('Verkaufen.');
  });

  it('show the English terms, marked as English, where no others were laid', async () => {
    await letIn();
    const page = await visitor.get(`/for/${ID}?language=ar`);
    expect(page).toContain('<html lang="ar" dir="rtl">');
    expect(page).toMatch(/<div lang="en" dir="ltr">.*Sell them\./s);
  });
});

describe('OG30: the password', () => {
  it('refuses a wrong one, and after five tries a right one, too, until a while has passed', async () => {
    for (let i = 0; i < 5; i++) {
      await letIn('three dry umbrellas');
      expect(visitor.status).toBe(403);
    }
    await letIn();
    expect(visitor.status).toBe(429);
    day.turnClock(60_000);
    await letIn();
    expect(visitor.status).toBe(303);
  });

  it('lets in as many in a row as have the right one', async () => {
    for (let i = 0; i < 8; i++) {
      visitor = new Visitor(app);
      await letIn();
      expect(visitor.status).toBe(303);
    }
  });

  it('counts only from our own form', async () => {
    await visitor.get(`/for/${ID}`);
    await visitor.post(`/for/${ID}`, { password: PASSWORD }, { origin: 'https://elsewhere.example' });
    expect(visitor.status).toBe(403);
    await visitor.post(`/for/${ID}`, { password: PASSWORD, token: '0'.repeat(64) });
    expect(visitor.status).toBe(403);
  });

  it('OG31: is asked again after twelve hours, and when it was changed', async () => {
    await letIn();
    day.turnClock(12 * 3_600_000 - 1000);
    expect(await visitor.get(`/for/${ID}`)).toContain('Ebbstone');
    day.turnClock(2000);
    expect(await visitor.get(`/for/${ID}`)).not.toContain('Ebbstone');
    await letIn();
    expect(await visitor.get(`/for/${ID}`)).toContain('Ebbstone');
    await shareWith({ passwordHash: await hashPassword('four wet umbrellas') });
    expect(await visitor.get(`/for/${ID}`)).not.toContain('Ebbstone');
  });

  it('OG31: a cookie somebody made up lets nobody in', async () => {
    await visitor.get(`/for/${ID}`, { cookie: `__Host-share-${ID}=${day.now() + 1e6}.${'0'.repeat(64)}` });
    expect(visitor.html).not.toContain('Ebbstone');
  });
});
