/** "Not me", a signal that goes half-way, and a takedown, each as the rider sees it and as it reaches the photographer: FN9, FN12, OR31, LW10, LW11, HD13. */
import { readFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { isWhole } from '../../src/core/handover/law/index.js';
import { hasBrowser, openBrowser } from './deskBrowser.js';
import { fillOrder, LEAVES, linkToSet, openPaddock, type Paddock, pageOf, paidAs, shot, signTwice } from './paddock.js';
import { hasNothingGrave } from './screenChecks.js';

describe.skipIf(!hasBrowser('being left out'))(
  'what goes wrong, and who does not want to be seen',
  { timeout: 240_000 },
  () => {
    let browser: Browser;
    let paddock: Paddock;
    beforeAll(async () => {
      [paddock, browser] = await Promise.all([openPaddock(), openBrowser()]);
      return async () => {
        await browser.close();
        await paddock.close();
      };
    });
    /** The colour of rider `n` is the one at `n` of the invented day. */
    const riderOf = (colour: string) =>
      paddock.gallery.riders.find(({ colours }) => (colours as readonly string[])[0] === colour)!;
    const dayOf = (colour: string) => `${paddock.site}rider/${riderOf(colour).publicId}.html`;
    const told = async () => (await paddock.admin.messagesSince(0)).map(({ kind, words }) => ({ kind, ...words }));

    it('FN12: “not me” reaches the photographer with picture and rider; without a signal as soon as there is one', async () => {
      const page = await pageOf(browser, 'phone', { bypassCSP: true });
      const { publicId: rider, pictures } = riderOf('yellow');
      await page.goto(dayOf('yellow'));
      await page
        .getByRole('button', { name: /^Not me/ })
        .first()
        .click();
      await page.getByRole('heading', { name: 'Put aside by you' }).waitFor();
      await expect.poll(told).toContainEqual({ kind: 'not-me', rider, picture: pictures[0]!.id });
      await page.context().setOffline(true);
      await page
        .getByRole('button', { name: /^Not me/ })
        .first()
        .click();
      await shot(page, 'aside-phone');
      await hasNothingGrave(page);
      expect(await told()).toHaveLength(1);
      await page.context().setOffline(false);
      await expect.poll(told).toContainEqual({ kind: 'not-me', rider, picture: pictures[1]!.id });
      await page.reload();
      expect(await page.locator('#aside [data-picture]').count()).toBe(2);
      await page
        .getByRole('button', { name: /^Put back/ })
        .first()
        .click();
      expect(await page.locator('.parts [data-picture]').count()).toBe(1);
      await page.context().close();
    });

    it('FN9, OR31: a signal lost while looking and while ordering: the page says so, nothing chosen or put in the basket goes, one order stands', async () => {
      const page = await pageOf(browser, 'phone');
      const isOnline = (is: boolean) => page.context().setOffline(!is);
      const before = (await paddock.admin.orders()).length;
      await page.route('**/find/**', (route) => (offline ? route.abort('internetdisconnected') : route.continue()));
      let offline = true;
      await page.goto(paddock.site);
      await isOnline(false);
      await page.getByRole('button', { name: 'green' }).click();
      await expect.poll(() => page.locator('#fits').textContent()).toMatch(/^No signal just now\./);
      expect(await page.locator('#below').isVisible()).toBe(true);
      await shot(page, 'offline-phone-1-find');
      offline = false;
      await isOnline(true);
      await page.getByText('1 rider fits. Tap once on yours.').waitFor();
      await page.getByRole('button', { name: 'Below: 1 rider' }).click();
      await page.keyboard.press('Enter');
      await page.getByRole('link', { name: 'Order the whole day' }).click();
      await page.getByRole('button', { name: /^Put in the basket: Your whole day/ }).click();
      await isOnline(false);
      await page.reload().catch(() => undefined);
      await isOnline(true);
      await page.goto(`${paddock.shop}/${paddock.meeting}/basket`);
      expect(await page.locator('main').getByText('green', { exact: true }).count()).toBe(1);
      await page.getByRole('link', { name: 'Go on to order' }).click();
      await fillOrder(page, 'Cash at the van');
      await isOnline(false);
      await page.getByRole('button', { name: 'Order and pay' }).click();
      await page.waitForURL(/^chrome-error:/);
      await isOnline(true);
      // What was typed is sent by loading again, and counts once however often.
      await page.reload();
      await page.getByText('Waiting for the money').waitFor();
      expect((await paddock.admin.orders()).length - before).toBe(1);
      await page.context().close();
    });

    it('LW10, LW11: a takedown: the rider’s page, pictures, card, prices, link and zip are gone for everybody, and a proof says so', async () => {
      const rider = riderOf('black');
      const picture = `proof/${rider.pictures[0]!.id}.jpg`;
      const page = await pageOf(browser, 'phone', { bypassCSP: true });
      const answer = async (address: string) => (await page.request.get(address)).status();
      const waysOf = (set: string) => [`${set}/all.zip`, `${set}/1.jpg`];
      const { set, reference, order } = await boughtBy(page, rider.publicId);
      for (const one of [dayOf('black'), paddock.site + picture, ...waysOf(set)])
        expect(await answer(one), one).toBe(200);

      const { proof, path } = await paddock.takeDown(LEAVES);
      expect(isWhole(proof)).toBe(true);
      expect(proof.addresses).toContain(rider.publicId);
      expect(readFileSync(path, 'utf8')).toContain(rider.pictures[0]!.id);
      // At once, before a gallery is made again; and the same once it is.
      for (const when of ['at once', 'made again'] as const) {
        if (when === 'made again') await paddock.putUp();
        for (const one of [
          dayOf('black'),
          paddock.site + picture,
          `${paddock.site}small/${rider.pictures[0]!.id}.jpg`,
          ...waysOf(set),
        ])
          expect([404, 410], `${when}: ${one}`).toContain(await answer(one));
        await page.goto(paddock.site);
        expect(await page.locator(`[data-rider="${rider.publicId}"]`).count(), when).toBe(0);
        expect(await page.content()).not.toContain(rider.publicId);
      }
      expect(await answer(dayOf('yellow'))).toBe(200);
      await page.goto(`${paddock.shop}/${paddock.meeting}/rider/${rider.publicId}`);
      await shot(page, 'down-phone-1-prices');
      expect(await page.getByRole('button', { name: /^Put in the basket/ }).count()).toBe(0);
      await page.goto(set);
      await page.getByRole('heading', { name: 'There is nothing to fetch here any more' }).waitFor();
      await hasNothingGrave(page, 8);
      await shot(page, 'down-phone-2-set');
      await page.goto(order);
      await shot(page, 'down-phone-3-order');
      const said = await page.locator('main').textContent();
      expect(said).toContain(reference);
      expect(said).toContain('its pictures were taken down');
      await page.context().close();
    });

    /** Ordered, paid and handed over: the addresses of the set and of the order. */
    async function boughtBy(page: Page, rider: string) {
      await page.goto(`${paddock.shop}/${paddock.meeting}/rider/${rider}`);
      await page.getByRole('button', { name: /^Put in the basket: Your whole day/ }).click();
      await page.getByRole('link', { name: 'Go on to order' }).click();
      await fillOrder(page, 'Cash at the van');
      await page.getByRole('button', { name: 'Order and pay' }).click();
      const reference = (await page.locator('.plate').textContent())!;
      await paidAs(paddock.admin, reference, 'cash');
      await signTwice(paddock.admin, reference);
      const open = await linkToSet(page);
      return { set: (await open.getAttribute('href'))!, reference, order: page.url() };
    }
  },
);
