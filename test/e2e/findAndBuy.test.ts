/** A rider finds theirs in the gallery, orders, pays at the van or by the bank, and has the pictures: GA5, FN1, OR24, OR31, HD5–HD9. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from './deskBrowser.js';
import {
  entriesIn,
  fillOrder,
  linkToSet,
  openPaddock,
  PAPERS,
  type Paddock,
  pageOf,
  paidAs,
  shot,
  signTwice,
} from './paddock.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';

describe.skipIf(!hasBrowser('finding and buying'))('find me and buy', { timeout: 240_000 }, () => {
  let browser: Browser;
  let paddock: Paddock;
  beforeAll(async () => {
    [paddock, browser] = await Promise.all([openPaddock(), openBrowser()]);
    return async () => {
      await browser.close();
      await paddock.close();
    };
  });

  const referenceOn = async (page: Page): Promise<string> => (await page.locator('.plate').first().textContent())!;
  const riderOn = (page: Page) => {
    const id = /rider\/([0-9a-f]{32})/.exec(page.url())![1];
    return paddock.gallery.riders.find(({ publicId }) => publicId === id)!;
  };
  const openSet = async (page: Page): Promise<void> => (await linkToSet(page)).click();
  async function fetched(page: Page, name: RegExp): Promise<Buffer> {
    const [coming] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name }).click()]);
    return readFileSync(await coming.path());
  }

  it.each(PAPERS)(
    'on a %s, %s: group, session, colour, “that’s me”, the whole day, cash at the van, the zip',
    async (size, colorScheme) => {
      const page = await pageOf(browser, size, { colorScheme, bypassCSP: true });
      const looked = async (name: string, pressed: string) => {
        await shot(page, `buy-${size}-${colorScheme}-${name}`);
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, pressed, size, 0);
      };
      await page.goto(paddock.site);
      await looked('1-first', 'main .box');
      await page.getByRole('button', { name: /session N1,/ }).click();
      await page.getByRole('button', { name: 'orange' }).click();
      await page.getByText(/^1 rider fits/).waitFor();
      await looked('2-found', 'main .box');
      await page
        .locator('.riders')
        .getByRole('link', { name: /That’s me/ })
        .first()
        .click();
      const rider = riderOn(page);
      expect(await page.locator('.parts [data-picture]').count()).toBe(rider.pictures.length);
      await looked('3-day', '.order, .deeds a, .deeds button');
      await page.getByRole('link', { name: 'Order the whole day' }).click();
      await looked('4-prices', 'main button');
      expect(await page.getByRole('link', { name: 'Privacy' }).getAttribute('href')).toBe(
        `${paddock.site}privacy.html`,
      );
      await page.getByRole('button', { name: /^Put in the basket: Your whole day/ }).click();
      await looked('5-basket', 'main button, main a.strong');
      await page.getByRole('link', { name: 'Go on to order' }).click();
      await fillOrder(page, 'Cash at the van');
      await looked('6-form', 'main button');
      await page.getByRole('button', { name: 'Order and pay' }).click();
      const reference = await referenceOn(page);
      await page.getByText(`Say ${reference} at the van.`).waitFor();
      await looked('7-waits', 'main button');
      await paidAs(paddock.admin, reference, 'cash');
      await page.reload();
      await page.getByText('partly guessed').waitFor();
      await shot(page, `buy-${size}-${colorScheme}-8-signs`);
      await signTwice(paddock.admin, reference);
      await openSet(page);
      await looked('9-set', 'main a.strong, main .list a');
      const zip = await fetched(page, /All in one file/);
      expect(entriesIn(zip)).toBeGreaterThanOrEqual(rider.pictures.length);
      expect(zip.includes(await fetched(page, /^Picture 1/))).toBe(true);
      await page.context().close();
    },
  );

  it('with keys alone, from the first page to the order that waits for the bank; the one picture comes', async () => {
    const page = await pageOf(browser, 'desk');
    const goTo = async (name: RegExp) => {
      for (let n = 0; n < 90; n++) {
        await page.keyboard.press('Tab');
        const at = await page.evaluate<string>(
          '(() => { const one = document.activeElement; return one.ariaLabel ?? (one.labels?.[0] ?? one).textContent.trim(); })()',
        );
        if (name.test(at)) return;
      }
      throw new Error(`The keyboard does not come to ${name} on ${page.url()}.`);
    };
    const press = async (name: RegExp, key = 'Enter') => {
      await goTo(name);
      await page.keyboard.press(key);
    };
    await page.goto(paddock.site);
    await press(/session F1/, 'Space');
    await page.getByText(/riders? fits?\./).waitFor();
    await press(/That’s me$/);
    await page.waitForURL(/\/rider\//);
    await press(/^Order this picture/);
    await page.waitForURL(/\/picture\//);
    await press(/^Put in the basket: One picture/);
    await page.waitForURL(/\/basket/);
    await press(/^Go on to order/);
    await page.waitForURL(/\/order$/);
    await goTo(/^Name/);
    await page.keyboard.type('Someone');
    await goTo(/^E-mail/);
    await page.keyboard.type('someone@example.org');
    await goTo(/^(Bank transfer|Cash at the van)/);
    await page.keyboard.press('Space');
    if (!(await page.getByLabel('Bank transfer').isChecked())) await page.keyboard.press('ArrowDown');
    for (const tick of [/^I want the pictures/, /^I know that/]) await press(tick, 'Space');
    await press(/^Order and pay/);
    await page.getByText('Account 00000000').waitFor();
    const reference = await referenceOn(page);
    expect(await page.locator('main').textContent()).toContain(`with the reference ${reference}`);
    await shot(page, 'buy-desk-transfer');
    await paidAs(paddock.admin, reference, 'transfer');
    await openSet(page);
    const picture = await fetched(page, /^Picture 1/);
    expect([picture.readUInt16BE(0), picture.readUInt16BE(picture.length - 2)]).toEqual([0xffd8, 0xffd9]);
    await page.context().close();
  });

  it('without scripts: the session’s page, the rider’s, the order', async () => {
    const page = await pageOf(browser, 'phone', { javaScriptEnabled: false });
    await page.goto(paddock.site);
    await shot(page, 'plain-phone-1-first');
    await page.getByRole('link', { name: /session N1, 09:00/ }).click();
    await shot(page, 'plain-phone-2-session');
    await page
      .getByRole('link', { name: /That’s me/ })
      .first()
      .click();
    await page.getByRole('link', { name: 'Order the whole day' }).click();
    await page.getByRole('button', { name: /^Put in the basket: Your whole day/ }).click();
    await page.getByRole('link', { name: 'Go on to order' }).click();
    await page.getByRole('button', { name: 'Order and pay' }).click();
    // The browser asks for what lacks; nothing was sent.
    expect(page.url()).toMatch(/\/order$/);
    await fillOrder(page, 'Card at the van');
    await page.getByRole('button', { name: 'Order and pay' }).click();
    await page.getByText(`Say ${await referenceOn(page)} at the van.`).waitFor();
    await page.context().close();
  });
});
