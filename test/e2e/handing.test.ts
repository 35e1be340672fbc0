/** A buyer comes by the link in the letter, in a real browser: looks, fetches, comes back too late and asks for a fresh one. */
import { mkdir } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { serve } from '@hono/node-server';
import { Hono } from 'hono';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { headerOf, startMail, type TestMail } from '../../src/shop/handing/mail/testing.js';
import { dayOfRider, type HandingDay, handingDay, noiseMaker, oneOf, paid } from '../../src/shop/handing/testing.js';
import { LANGUAGES } from '../../src/shop/pages/words/index.js';
import { offerOfDay, pictureId } from '../../src/shop/testing/shopDay.js';
import { hasBrowser, openBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';

const SIZES = { desk: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } } as const;
const SHOTS = process.env.SHOTS;

describe.skipIf(!hasBrowser('handing over in a browser'))('handing over in a browser', () => {
  let browser: Browser;
  let mail: TestMail;
  let here: HandingDay;
  let site: string;
  let link: string;
  beforeAll(async () => {
    mail = await startMail();
    const maker = noiseMaker(300_000);
    maker.refuses.add(pictureId(3));
    const offer = { ...offerOfDay, title: 'Open day at Fallow Ring', gallery: null };
    here = await handingDay({ mail: mail.settings, maker, offer });
    await paid(here.day, [dayOfRider, oneOf(3), oneOf(4, 'press')]);
    await here.settle();
    await here.handing.post!.carry();
    expect(headerOf(mail.letters[0]!, 'Subject')).toBe('Your pictures: Open day at Fallow Ring');
    const { json } = await order();
    link = new URL(json.address).pathname;
    // As behind a proxy that says the site's own host.
    const proxy = new Hono();
    proxy.all('*', (context) => {
      const headers = new Headers(context.req.raw.headers);
      headers.set('host', 'orders.example.org');
      const { method } = context.req;
      return here.app.fetch(new Request(context.req.url, { method, headers }), context.env);
    });
    const server = serve({ fetch: proxy.fetch, port: 0, hostname: '127.0.0.1' });
    await new Promise((done) => server.once('listening', done));
    site = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    browser = await openBrowser();
    return async () => {
      await browser.close();
      await new Promise((done) => server.close(done));
      await here.close();
      await mail.stop();
    };
  });

  async function order(): Promise<{ json: { address: string } }> {
    const [id] = await here.day.store.orders();
    const answer = await here.admin.request(`/api/handing/${id}/link`, { method: 'POST', body: '{}' });
    return { json: (await answer.json()) as { address: string } };
  }

  const pageOf = async (size: keyof typeof SIZES, more: object = {}): Promise<Page> =>
    (await browser.newContext({ viewport: SIZES[size], locale: 'en-GB', ...more })).newPage();
  const shot = async (page: Page, name: string) => {
    if (SHOTS === undefined) return;
    await mkdir(SHOTS, { recursive: true });
    await page.screenshot({ path: join(SHOTS, `${name}.png`) });
  };

  it.each([
    ['desk', 'light'],
    ['desk', 'dark'],
    ['phone', 'light'],
    ['phone', 'dark'],
  ] as const)(
    'on a %s screen, %s, nothing is grave or wider than the screen, in every language',
    async (size, colorScheme) => {
      const page = await pageOf(size, { colorScheme, bypassCSP: true });
      for (const language of LANGUAGES) {
        await page.goto(`${site}${link}?language=${language}`);
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, 'main button, main a.strong, .way a, main .list a', size, 1);
        if (language === 'en' || language === 'ar') await shot(page, `set-${size}-${colorScheme}-${language}`);
      }
      await page.context().close();
    },
  );

  it('HD5: by keyboard all in one file, and one picture; HD3: too late, and a fresh link goes by letter', async () => {
    const page = await pageOf('phone', { acceptDownloads: true });
    await page.goto(`${site}${link}`);
    const all = page.getByRole('link', { name: /All in one file/ });
    await all.focus();
    const [zip] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    expect(zip.suggestedFilename()).toBe('Open day at Fallow Ring.zip');
    expect(await zip.failure()).toBeNull();
    const [one] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: /^Picture 4/ }).click(),
    ]);
    expect(one.suggestedFilename()).toBe('2026-09-20-004-press.jpg');
    here.day.turnClock(31 * 86_400_000);
    await page.goto(`${site}${link}`);
    await shot(page, 'expired-phone');
    await page.getByRole('button', { name: 'Send a fresh link' }).press('Enter');
    await page.getByRole('heading', { name: 'A letter goes out' }).waitFor();
    await shot(page, 'sent-phone');
    expect(await page.content()).not.toContain('/handed/');
    await expect.poll(() => mail.letters.length).toBe(2);
    await page.context().close();
  });
});
