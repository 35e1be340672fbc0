/** The gallery and the service with nobody, one rider and four hundred, under names as people write them, in both sizes, light and dark: GA16, FN4, OR30. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { NOTHING_KNOWN } from '../../src/core/handover/find/ridersOf.js';
import { findFilesOf } from '../../src/gallery/index.js';
import { shownGallery, writeShown } from '../builders/shownGallery.js';
import { serveFiles } from '../builders/writtenGallery.js';
import { hasBrowser, openBrowser } from './deskBrowser.js';
import { fillOrder, offerTo, openPaddock, openService, PAPERS, pageOf, shot } from './paddock.js';
import { hasNothingGrave, isNoWiderThanScreen } from './screenChecks.js';

/** Sixty letters without a place to break. */
const LONG = 'Donaudampfschifffahrtsgesellschaftsfahrertrainingsnachmittag';
const SCRIPT = '<script>document.title="slipped"</script>';
const ARABIC = 'يوم الحلبة المفتوح في وادي السنونو';
const WORDS = {
  meeting: `${LONG} ${SCRIPT}`,
  spot: ARABIC,
  seller: `${ARABIC} ${SCRIPT}`,
  product: `${LONG} ${ARABIC}`,
  livery: `orange, ${LONG}`,
};

describe.skipIf(!hasBrowser('many, few and hard names'))('many, few and hard names', { timeout: 240_000 }, () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
    return () => browser.close();
  });

  /** Both sizes and both papers, once each. */
  const SCREENS = [PAPERS[0]!, PAPERS[3]!];

  /** Nothing over the side, nothing grave, nothing run that was a name. */
  async function stands(page: Page, name: string): Promise<void> {
    await shot(page, name);
    await isNoWiderThanScreen(page);
    await hasNothingGrave(page, 8);
    expect(await page.title()).not.toBe('slipped');
    expect(await page.locator('h1, .meeting').count()).toBeGreaterThan(0);
  }

  it('long, hostile and right-to-left names are shown as they were written, from the first page to the paid order', async () => {
    const paddock = await openPaddock({ riders: 3, words: WORDS });
    const rider = paddock.gallery.riders.find(({ livery }) => livery.includes(LONG))!;
    for (const [size, colorScheme] of SCREENS) {
      const page = await pageOf(browser, size, { colorScheme, bypassCSP: true });
      const on = (name: string) => stands(page, `names-${size}-${colorScheme}-${name}`);
      for (const language of ['', 'ar/']) {
        await page.goto(`${paddock.site}${language}index.html`);
        expect(await page.locator('header').textContent()).toContain(SCRIPT);
        await on(`first${language.replace('/', '')}`);
        await page.goto(`${paddock.site}${language}rider/${rider.publicId}.html`);
        expect(await page.locator('main').textContent()).toContain(ARABIC);
        await on(`day${language.replace('/', '')}`);
      }
      await page.goto(`${paddock.shop}/${paddock.meeting}/picture/${rider.pictures[0]!.id}?language=ar`);
      expect(await page.locator('html').getAttribute('dir')).toBe('rtl');
      await on('prices-ar');
      await page.goto(`${paddock.shop}/${paddock.meeting}/picture/${rider.pictures[0]!.id}?language=en`);
      await page.getByRole('button', { name: `Put in the basket: ${LONG} ${ARABIC}` }).click();
      await on('basket');
      await page.getByRole('link', { name: 'Go on to order' }).click();
      await fillOrder(page, 'Bank transfer', `${SCRIPT} ${LONG.slice(0, 50)}`);
      await page.getByRole('button', { name: 'Order and pay' }).click();
      await on('order');
      await page.context().close();
    }
    const names = (await paddock.admin.orders()).map(({ state }) => state.placed?.contact.name);
    expect(names).toEqual(SCREENS.map(() => `${SCRIPT} ${LONG.slice(0, 50)}`));
    await paddock.close();
  });

  it.each([0, 1])('with %i riders a sentence says how things stand, and there is something to do', async (riders) => {
    const paddock = await openPaddock({ riders });
    const page = await pageOf(browser, 'phone', { bypassCSP: true });
    await page.goto(paddock.site);
    await stands(page, `few-${riders}-first`);
    const said = riders === 0 ? 'There are no pictures here yet.' : '1 rider, 2 pictures.';
    expect(await page.locator('.lead').textContent()).toContain(said);
    expect((await page.locator('main .box').count()) === 0).toBe(riders === 0);
    await page.getByRole('link', { name: 'I can’t find me' }).click();
    await page.getByLabel('Where to answer you').fill('someone@example.org');
    await stands(page, `few-${riders}-ask`);
    await page.getByRole('button', { name: 'Send' }).click();
    await page.getByRole('heading', { name: 'Thank you, the photographer has it' }).waitFor();
    expect(await paddock.admin.messagesSince(0)).toMatchObject([
      { kind: 'cannot-find-me', words: { contact: 'someone@example.org' } },
    ]);
    await page.goto(`${paddock.shop}/${paddock.meeting}`);
    await stands(page, `few-${riders}-shop`);
    await paddock.close();
    await page.context().close();
  });

  it('among 400 riders session and colour leave a few, on either screen, and the one is found and priced', async () => {
    const root = mkdtempSync(join(tmpdir(), 'tyrewall-full-'));
    const service = await openService(join(root, 'orders'));
    const gallery = shownGallery({ riders: 400 });
    const meeting = 'a'.repeat(32);
    const folder = join(root, 'gallery');
    await mkdir(folder);
    const { files, findable } = findFilesOf(gallery, () => NOTHING_KNOWN, meeting, 'en');
    await writeShown(folder, gallery, { address: service.site, meeting }, { findable });
    await mkdir(join(folder, 'find'));
    for (const [path, text] of files) writeFileSync(join(folder, path), text);
    const server = await serveFiles(folder);
    await service.admin.putOffer(
      offerTo(gallery, { riders: [], passes: [], exposures: [] }, { meeting, address: server.site }),
    );
    for (const [size, colorScheme] of SCREENS) {
      const page = await pageOf(browser, size, { colorScheme, bypassCSP: true });
      await page.goto(server.site);
      await stands(page, `many-${size}-${colorScheme}-first`);
      await page.getByRole('button', { name: /session F1,/ }).click();
      await page.getByRole('button', { name: 'black' }).click();
      await page.getByText(/riders fit\. Tap once on yours\./).waitFor();
      await expect.poll(() => page.locator('.riders > li').count()).toBe(24);
      await page
        .locator('.riders img')
        .first()
        .evaluate((one) => (one as unknown as { decode(): Promise<void> }).decode());
      await stands(page, `many-${size}-${colorScheme}-found`);
      await page
        .getByRole('link', { name: /That’s me/ })
        .last()
        .click();
      await stands(page, `many-${size}-${colorScheme}-day`);
      await page.getByRole('link', { name: 'Order the whole day' }).click();
      await page.getByText('£45.00').waitFor();
      await page.goto(`${service.site}/${meeting}?bike=black`);
      expect(await page.locator('main a[href*="/rider/"]').count()).toBe(24);
      await stands(page, `many-${size}-${colorScheme}-shop`);
      await page.context().close();
    }
    await server.close();
    await service.close();
    rmSync(root, { recursive: true, force: true });
  });
});
