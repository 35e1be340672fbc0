/** The organiser's page in a real browser, by keyboard, at the phone's and the desk's size, on light and dark paper. Rules OG18, OG29. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { type ClientsView, SET_WISH } from '../../src/core/handover/organiser/index.js';
import type { FileMetadata } from '../../src/core/measure/types.js';
import { epochMsOf } from '../../src/core/units.js';
import { clientsPage, handToOrganiser, organiserSet } from '../../src/host/organiser/index.js';
import { hashPassword } from '../../src/shop/service/adminKeys.js';
import { type OpenShop, openShop } from '../../src/shop/service/openShop.js';
import { sharePart } from '../../src/shop/sharing/index.js';
import { wallAt } from '../builders/arrangement.js';
import { drawDay, galleryDay } from '../builders/galleryDay.js';
import { hasBrowser, openBrowser } from './deskBrowser.js';
import { shot } from './paddock.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';

const SIZES = { desk: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } } as const;
const ID = 'd'.repeat(32);
const PASSWORD = 'three wet umbrellas';
/** Longer than any meeting's name is. */
const LONG = 'Ridiculouslylongnamethatnobodywouldgiveandyetsomebodydoes '.repeat(3).trim();

describe.skipIf(!hasBrowser('the organiser’s page'))('the organiser’s page', { timeout: 120_000 }, () => {
  let browser: Browser;
  let shop: OpenShop;
  let address: string;
  const folder = mkdtempSync(join(tmpdir(), 'tyrewall-share-'));
  beforeAll(async () => {
    const day = galleryDay({ riders: 3 });
    const about = { ...day.about, name: LONG, organiser: { name: 'Ebbstone Riders' } };
    const state = { ...day, about, metadata: new Map<string, FileMetadata>() };
    const meetingFolder = join(folder, 'meeting');
    mkdirSync(meetingFolder);
    await drawDay(day, meetingFolder);
    await handToOrganiser(state, organiserSet(state, day, { pictures: 3 }).pictures, {
      is: 'set',
      out: join(folder, 'shares', ID),
      meetingFolder,
      longEdgePx: 600,
      nameOf: () => null,
      share: { id: ID, passwordHash: await hashPassword(PASSWORD), expiresAt: null },
      now: { at: epochMsOf(0), wall: wallAt('17:00:00') },
    });
    const ends = { listen: '127.0.0.1', port: 0, adminListen: '127.0.0.1', adminPort: 0, isBehindProxy: false };
    const parts: Parameters<typeof openShop>[0]['parts'] = async (ports) => [sharePart(ports, join(folder, 'shares'))];
    shop = await openShop({ ...ends, data: join(folder, 'data'), database: null, offers: [], site: null, parts });
    address = `http://127.0.0.1:${shop.port}/for/${ID}`;
    browser = await openBrowser();
    return async () => {
      await browser.close();
      await shop.close();
      rmSync(folder, { recursive: true, force: true });
    };
  }, 120_000);

  const pageOf = async (size: keyof typeof SIZES, more: object = {}): Promise<Page> =>
    (await browser.newContext({ viewport: SIZES[size], locale: 'en-GB', bypassCSP: true, ...more })).newPage();

  const knock = async (page: Page, password: string): Promise<void> => {
    await page.goto(address);
    await page.getByLabel('The password you were given').focus();
    await page.keyboard.type(password);
    await page.keyboard.press('Enter');
  };

  for (const size of ['desk', 'phone'] as const)
    for (const colorScheme of ['light', 'dark'] as const)
      it(`OG29: opens by the password and the keyboard alone, ${size}, ${colorScheme}`, async () => {
        const page = await pageOf(size, { colorScheme });
        await page.goto(address);
        expect(await page.content()).not.toContain('Ebbstone Riders');
        await hasNothingGrave(page, 8);
        await hasRoomToPress(page, 'button, input[type="password"]', size, 1);
        await shot(page, `share-${size}-${colorScheme}-door`);
        await knock(page, PASSWORD);
        await page.getByRole('heading', { name: 'What you may not do' }).waitFor();
        const pictures = page.locator('main img');
        expect(await pictures.count()).toBe(3);
        await pictures.first().scrollIntoViewIfNeeded();
        await expect
          .poll(() => pictures.first().evaluate((one) => (one as unknown as { naturalWidth: number }).naturalWidth))
          .toBeGreaterThan(0);
        await isNoWiderThanScreen(page);
        await hasNothingGrave(page);
        await shot(page, `share-${size}-${colorScheme}`);
        await page.context().close();
      });

  it('OG33: stands in every language of the gallery, mirrored where it is read from the right', async () => {
    const page = await pageOf('phone', { locale: 'it-CH' });
    await page.goto(address);
    await page.getByLabel('La password').fill(PASSWORD);
    await page.keyboard.press('Enter');
    await page.getByText('vale il testo inglese').waitFor();
    for (const language of ['de', 'fr', 'it', 'es', 'ar']) {
      await page.goto(`${address}?language=${language}`);
      expect(await page.locator('html').getAttribute('lang')).toBe(language);
      expect(await page.getByText('Sell them').count()).toBe(0);
      await isNoWiderThanScreen(page);
      await hasNothingGrave(page);
      await shot(page, `share-phone-${language}`);
    }
    expect(await page.locator('html').getAttribute('dir')).toBe('rtl');
    await page.context().close();
  });

  it('OG29: gives a picture whole', async () => {
    const page = await pageOf('phone');
    await knock(page, PASSWORD);
    const coming = page.waitForEvent('download');
    await page.locator('main a:has(img)').first().click();
    expect((await coming).suggestedFilename()).toMatch(/^01-20260919-\d{6}-.*\.jpg$/);
    await page.context().close();
  });

  it('OG30: says that a password is wrong, and shows nothing', async () => {
    const page = await pageOf('phone');
    await knock(page, 'three dry umbrellas');
    await page.getByRole('alert').waitFor();
    expect(await page.locator('main img').count()).toBe(0);
    await page.context().close();
  });

  for (const clients of [0, 1, 40])
    it(`OG18: the clients’ page shows itself without signal, with ${clients} clients`, async () => {
      const file = join(folder, `clients-${clients}.html`);
      writeFileSync(file, await clientsPage(viewOf(clients)));
      for (const size of ['desk', 'phone'] as const)
        for (const colorScheme of ['light', 'dark'] as const) {
          const page = await pageOf(size, { colorScheme, offline: true });
          await page.goto(`file://${file}`);
          expect(await page.locator('article').count()).toBe(clients);
          await isNoWiderThanScreen(page);
          await hasNothingGrave(page, 8);
          await page.context().close();
        }
    });
});

function viewOf(count: number): ClientsView {
  const clients = Array.from({ length: count }, (_, i): ClientsView['clients'][number] => ({
    event: '',
    class: i % 2 === 0 ? 'Superstock' : LONG,
    number: String(i + 1),
    name: i % 3 === 0 ? LONG : null,
    wants: `${SET_WISH.pictures} pictures from 3 spots`,
    booked: { pictures: SET_WISH.pictures, spots: 3 },
    good: 0,
    frames: 0,
    spots: [],
    owed: { pictures: SET_WISH.pictures, spots: 3 },
    isWanted: i % 5 === 0,
    doubts: ['1 of the taps is shown by no picture, though the card is in.'],
    sessions: [
      {
        name: 'S1',
        group: 'S',
        start: wallAt('10:00'),
        end: wallAt('10:20'),
        when: 'now',
        cards: { kind: 'not-seen', why: 'no-card-yet' },
        got: i % 5 === 0 ? [] : [{ at: wallAt('10:04'), spot: null, cards: 'no-card-yet' }],
      },
    ],
  }));
  return { meeting: LONG, asOf: wallAt('10:10'), cardsUntil: null, initials: 'RQ', clients, spots: [] };
}
