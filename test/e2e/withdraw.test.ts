/** A buyer withdraws from the contract in a real browser, with the keyboard alone, on a phone and at a desk. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { adminClient } from '../../src/shop/service/adminClient.js';
import { type OpenShop, openShop } from '../../src/shop/service/openShop.js';
import { MEETING, offerOfDay, pictureId } from '../../src/shop/testing/shopDay.js';
import { hasBrowser, openBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';

const SIZES = { desk: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } } as const;

describe.skipIf(!hasBrowser('withdrawing in a browser'))('withdrawing in a browser', () => {
  let browser: Browser;
  let shop: OpenShop;
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-withdraw-'));
  beforeAll(async () => {
    const ends = { listen: '127.0.0.1', port: 0, adminListen: '127.0.0.1', adminPort: 0, isBehindProxy: false };
    const offers = [{ ...offerOfDay, gallery: null }];
    shop = await openShop({ ...ends, data: join(folder, 'data'), database: null, offers, site: null });
    browser = await openBrowser();
    return async () => {
      await browser.close();
      await shop.close();
      rmSync(folder, { recursive: true, force: true });
    };
  });

  const tabTo = async (page: Page, words: string) => {
    for (let n = 0; n < 40; n++) {
      await page.keyboard.press('Tab');
      const at = await page.evaluate<string>(
        '(document.activeElement.labels?.[0] ?? document.activeElement).textContent.trim()',
      );
      if (at === words) return;
    }
    throw new Error(`Expected the keyboard to come to "${words}".`);
  };

  it.each([
    ['desk', 'light'],
    ['phone', 'dark'],
  ] as const)(
    'on a %s screen, %s: prints go back, the files stay',
    async (size, colorScheme) => {
      const options = { viewport: SIZES[size], colorScheme, locale: 'en-GB', bypassCSP: true } as const;
      const page = await (await browser.newContext(options)).newPage();
      const site = `http://127.0.0.1:${shop.port}`;
      for (const name of ['One picture', 'Print, 30 × 20 cm']) {
        await page.goto(`${site}/${MEETING}/picture/${pictureId(1)}`);
        await page.getByRole('button', { name: `Put in the basket: ${name}`, exact: true }).click();
      }
      await page.goto(`${site}/${MEETING}/order`);
      for (const [label, typed] of [
        ['Name', 'Someone'],
        ['E-mail', 'someone@example.org'],
        ['Postal address', '1 Paddock Lane'],
      ] as const)
        await page.getByLabel(label).fill(typed);
      for (const tick of await page.getByRole('checkbox').all()) await tick.check();
      await page.getByLabel('Cash at the van').check();
      await page.getByRole('button', { name: 'Order and pay' }).click();
      await page.getByText('Waiting for the money').waitFor();
      const key = readFileSync(join(folder, 'data', 'admin.key'), 'utf8').trim();
      const client = adminClient(`http://127.0.0.1:${shop.adminPort}`, key);
      const [{ state }] = (await client.ordersOf(page.url().split('/').pop()!)) as [
        { state: { id: never; owed: number } },
      ];
      const paid = { kind: 'paid', amount: state.owed, way: 'cash', reference: '' } as const;
      await client.tell(state.id, { key: `till-${state.id}`, fact: paid });
      await page.reload();

      const checked = async () => {
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, 'main button, main a, main summary, main .tick', size, 1);
      };
      await checked();
      await tabTo(page, 'Withdraw from the contract here');
      await page.keyboard.press('Enter');
      await page.waitForURL('**/withdraw');
      await checked();
      await tabTo(page, 'Prints');
      await page.keyboard.press('Space');
      await tabTo(page, 'Confirm withdrawal');
      await page.keyboard.press('Enter');
      await page.getByText('The withdrawal from the contract arrived on').waitFor();
      await checked();
      const fetched = page.waitForEvent('download');
      await tabTo(page, 'Confirmation of the withdrawal, to keep');
      await page.keyboard.press('Enter');
      expect(readFileSync(await (await fetched).path(), 'utf8')).toContain('I withdraw from the contract of');
      const after = await client.ordersOf(state.id);
      expect(after[0]!.state).toMatchObject({ toGiveBack: 1500, pictures: [pictureId(1)], standing: 'paid' });
      await page.context().close();
    },
    60_000,
  );
});
