/** A rider orders in a real browser, at the phone's and the desk's size: by keyboard, in six languages, and while the signal goes. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { LANGUAGES, wordsOf } from '../../src/shop/pages/words/index.js';
import { adminClient } from '../../src/shop/service/adminClient.js';
import { type OpenShop, openShop } from '../../src/shop/service/openShop.js';
import { MEETING, offerOfDay, pictureId, RIDER } from '../../src/shop/testing/shopDay.js';
import { hasBrowser, openBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';

const SIZES = { desk: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } } as const;
/** Longer than any livery or product is. */
const LONG = 'Ridiculouslylongnamethatnobodywouldgiveandyetsomebodydoes '.repeat(3).trim();

describe.skipIf(!hasBrowser('orders in a browser'))('orders in a browser', () => {
  let browser: Browser;
  let gallery: Server;
  let shop: OpenShop;
  let site: string;
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-orders-'));
  beforeAll(async () => {
    const picture = await sharp({ create: { width: 640, height: 427, channels: 3, background: '#b0b4b0' } })
      .jpeg()
      .toBuffer();
    gallery = createServer((_, response) => response.setHeader('content-type', 'image/jpeg').end(picture));
    await new Promise<void>((done) => gallery.listen(0, '127.0.0.1', done));
    const products = offerOfDay.prices.products.map((one) => (one.key === 'press' ? { ...one, name: LONG } : one));
    const offer = {
      ...offerOfDay,
      title: `Open day at Fallow Ring`,
      gallery: `http://127.0.0.1:${(gallery.address() as AddressInfo).port}`,
      prices: { ...offerOfDay.prices, products },
    };
    const ends = { listen: '127.0.0.1', port: 0, adminListen: '127.0.0.1', adminPort: 0, isBehindProxy: false };
    shop = await openShop({ ...ends, data: join(folder, 'data'), database: null, offers: [offer], site: null });
    site = `http://127.0.0.1:${shop.port}`;
    browser = await openBrowser();
    return async () => {
      await browser.close();
      await shop.close();
      gallery.close();
      rmSync(folder, { recursive: true, force: true });
    };
  });

  const pageOf = async (size: keyof typeof SIZES, more: object = {}): Promise<Page> =>
    (await browser.newContext({ viewport: SIZES[size], locale: 'en-GB', ...more })).newPage();
  const put = async (page: Page, name = 'Your whole day, Saturday') => {
    await page.goto(`${site}/${MEETING}/rider/${RIDER}`);
    await page.getByRole('button', { name: `Put in the basket: ${name}` }).click();
  };
  const fill = async (page: Page) => {
    await page.getByLabel('Name').fill('Someone');
    await page.getByLabel('E-mail').fill('someone@example.org');
    for (const tick of await page.getByRole('checkbox').all()) await tick.check();
    await page.getByLabel('Cash at the van').check();
  };

  it.each([
    ['desk', 'light'],
    ['desk', 'dark'],
    ['phone', 'light'],
    ['phone', 'dark'],
  ] as const)(
    'on a %s screen, %s, nothing is grave or wider than the screen, and there is room for a thumb, in every language',
    async (size, colorScheme) => {
      const page = await pageOf(size, { colorScheme, bypassCSP: true });
      const checked = async () => {
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, 'main button, main a.strong, .way a, main .list a', size, 1);
      };
      await page.goto(`${site}/${MEETING}?bike=red`);
      await checked();
      await page.goto(`${site}/${MEETING}/picture/${pictureId(1)}`);
      await checked();
      await page.getByRole('button', { name: 'Put in the basket: Print, 30 × 20 cm' }).click();
      await put(page);
      await checked();
      await page.getByRole('link', { name: 'Go on to order' }).click();
      await checked();
      await fill(page);
      await page.getByLabel('Postal address').fill('1 Paddock Lane');
      await page.getByRole('button', { name: 'Order and pay' }).click();
      await page.getByText('Waiting for the money').waitFor();
      await checked();
      await put(page);
      for (const language of colorScheme === 'light' ? LANGUAGES : (['en'] as const)) {
        await page.goto(`${site}/${MEETING}/order?language=${language}`);
        expect(await page.getByRole('heading', { level: 1 }).textContent()).toBe(wordsOf[language].order);
        await checked();
      }
      await page.context().close();
    },
    180_000,
  );

  it('is ordered with the keyboard alone', async () => {
    const page = await pageOf('desk');
    await page.goto(`${site}/${MEETING}/rider/${RIDER}`);
    const tabTo = async (name: string) => {
      for (let n = 0; n < 60; n++) {
        await page.keyboard.press('Tab');
        const at = await page.evaluate<string>(
          '(document.activeElement.labels?.[0] ?? document.activeElement).textContent.trim() + "|" + document.activeElement.ariaLabel',
        );
        if (at.split('|').includes(name)) return;
      }
      throw new Error(`The keyboard does not come to ${name}.`);
    };
    await tabTo('Put in the basket: Your whole weekend');
    await page.keyboard.press('Enter');
    await page.getByText('£70.00').first().waitFor();
    await tabTo('Go on to order');
    await page.keyboard.press('Enter');
    await page.getByLabel('Name').waitFor();
    await tabTo('Name');
    await page.keyboard.type('Someone');
    await tabTo('E-mail');
    await page.keyboard.type('someone@example.org');
    await tabTo('Cash at the van');
    await page.keyboard.press('Space');
    for (const tick of [wordsOf.en.consentSupply, wordsOf.en.consentLoss]) {
      await tabTo(tick);
      await page.keyboard.press('Space');
    }
    await tabTo('Order and pay');
    await page.keyboard.press('Enter');
    await page.getByText('Waiting for the money').waitFor();
    expect(page.url()).toMatch(/\/order\/[0-9a-f]{32}$/);
  });

  it('a signal lost half-way loses nothing and orders once', async () => {
    const page = await pageOf('phone');
    await put(page);
    await page.context().setOffline(true);
    await page.reload().catch(() => undefined);
    await page.context().setOffline(false);
    await page.goto(`${site}/${MEETING}/basket`);
    expect(await page.getByText('Your whole day').count()).toBe(1);
    await page.getByRole('link', { name: 'Go on to order' }).click();
    await fill(page);
    // It reaches the service, but its answer never reaches the phone.
    await page.route('**/order', async (route) => {
      if (route.request().method() !== 'POST') return route.continue();
      const cookies = await page.context().cookies();
      await route.fetch({ maxRedirects: 0 });
      await page.context().clearCookies();
      await page.context().addCookies(cookies);
      return route.abort('internetdisconnected');
    });
    await page.getByRole('button', { name: 'Order and pay' }).click();
    await page.unroute('**/order');
    await page.goto(`${site}/${MEETING}/order`);
    await fill(page);
    await page.getByRole('button', { name: 'Order and pay' }).click();
    const first = page.url();
    expect(first).toMatch(/\/order\/[0-9a-f]{32}$/);
    await page.goto(`${site}/${MEETING}/basket`);
    expect(await page.getByText('Nothing is in the basket yet').count()).toBe(1);
    const others = await ordersOf();
    expect(others.filter(({ state }) => `${site}/order/${state.id}` === first)).toHaveLength(1);
    expect(
      others.filter(({ state }) => state.placed!.lines.length === 1 && state.placed!.lines[0]!.product === 'day'),
    ).toHaveLength(1);
  });

  it('fetches nothing from elsewhere but the gallery’s pictures, and runs no script that is slipped in', async () => {
    const page = await pageOf('phone');
    const elsewhere: string[] = [];
    const refused: string[] = [];
    page.on('request', (request) => {
      if (!request.url().startsWith(site) && !request.url().includes('/small/') && !request.url().startsWith('data:'))
        elsewhere.push(request.url());
    });
    page.on('console', (message) => {
      if (message.type() === 'error') refused.push(message.text());
    });
    await page.goto(`${site}/${MEETING}/rider/${RIDER}`);
    expect(
      await page
        .locator('img')
        .first()
        .evaluate((image: unknown) => (image as { naturalWidth: number }).naturalWidth),
    ).toBe(640);
    expect([elsewhere, refused]).toEqual([[], []]);
    await page.evaluate(
      `document.body.append(Object.assign(document.createElement('script'), { textContent: 'window.slipped = 1' }))`,
    );
    expect(await page.evaluate('window.slipped')).toBeUndefined();
  });

  async function ordersOf() {
    const key = readFileSync(join(folder, 'data', 'admin.key'), 'utf8').trim();
    return adminClient(`http://127.0.0.1:${shop.adminPort}`, key).orders();
  }

  it.each([
    ['desk', 'light'],
    ['phone', 'dark'],
  ] as const)(
    'on a %s screen, %s, a buyer withdraws by keyboard and keeps the confirmation',
    async (size, colorScheme) => {
      const page = await pageOf(size, { colorScheme, bypassCSP: true });
      await put(page);
      await page.getByRole('link', { name: 'Go on to order' }).click();
      await fill(page);
      await page.getByRole('button', { name: 'Order and pay' }).click();
      const checked = async () => {
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, 'main button, main .list a, main summary', size, 0);
      };
      const press = async (role: 'link' | 'button', name: string) => {
        await page.getByRole(role, { name }).press('Enter');
      };
      await press('link', 'Withdraw from the contract here');
      await page.waitForURL('**/withdraw');
      await checked();
      await press('button', 'Confirm withdrawal');
      await page.getByText('The withdrawal from the contract arrived on').waitFor();
      await checked();
      const fetched = page.waitForEvent('download');
      await press('link', 'Confirmation of the withdrawal, to keep');
      expect(readFileSync(await (await fetched).path(), 'utf8')).toContain('I withdraw from the contract of');
      expect(await page.getByText('Cancelled').count()).toBe(1);
      await page.context().close();
    },
    60_000,
  );
});
