import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { kindsOfPages, SHOWN_SHOP, shownGallery, writeShown } from '../../../test/builders/shownGallery.js';
import { serveFiles } from '../../../test/builders/writtenGallery.js';
import { hasBrowser, openBrowser } from '../../../test/e2e/deskBrowser.js';
import { hasNothingGrave, isNoWiderThanScreen } from '../../../test/e2e/screenChecks.js';
import { LANGUAGES } from '../../gallery/index.js';

const PHONE = { width: 390, height: 844 } as const;
const gallery = shownGallery({ riders: 6 });
const kinds = kindsOfPages(gallery);
const rider = `rider/${gallery.riders[0]!.publicId}.html`;

describe.skipIf(!hasBrowser('the gallery as people with other needs use it'))('a gallery for everybody', () => {
  let browser: Browser;
  const folders: string[] = [];
  const servers: Awaited<ReturnType<typeof serveFiles>>[] = [];
  let site: string;

  async function serve(shown: typeof gallery): Promise<string> {
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-shown-'));
    folders.push(folder);
    await writeShown(folder, shown);
    const server = await serveFiles(folder);
    servers.push(server);
    return server.site;
  }
  const open = async (how: BrowserContextOptions = {}): Promise<Page> =>
    (await browser.newContext({ viewport: PHONE, bypassCSP: true, ...how })).newPage();

  beforeAll(async () => {
    browser = await openBrowser();
    site = await serve(gallery);
  });
  afterAll(async () => {
    await browser.close();
    for (const server of servers) await server.close();
    for (const folder of folders) await rm(folder, { recursive: true });
  });

  it.each(['en', 'ar'] as const)(
    'GA10: axe finds nothing grave in %s, light and dark',
    async (language) => {
      for (const colorScheme of ['light', 'dark'] as const) {
        const page = await open({ colorScheme });
        for (const path of kinds) {
          await page.goto(`${site}${language === 'en' ? '' : 'ar/'}${path}`);
          await hasNothingGrave(page);
        }
        await page.context().close();
      }
    },
    120_000,
  );

  it('GA11: at 320 px, and with text twice as large, nothing is wider than the screen in any language', async () => {
    const small = await open({ viewport: { width: 320, height: 640 } });
    const large = await open({ viewport: { width: 640, height: 900 } });
    for (const language of LANGUAGES)
      for (const path of kinds) {
        const address = `${site}${language === 'en' ? '' : `${language}/`}${path}`;
        await small.goto(address);
        await isNoWiderThanScreen(small);
        await large.goto(address);
        await large.addStyleTag({ content: 'html { font-size: 200% } body { font-size: 32px }' });
        await isNoWiderThanScreen(large);
      }
  }, 120_000);

  it('GA12: what is pressed on a phone has 44 px each way, but for links within a sentence', async () => {
    const page = await open();
    let measured = 0;
    for (const path of kinds) {
      await page.goto(site + path);
      const sizes = await page
        .locator('a, button, input:not([type="hidden"]), select, textarea, summary')
        .evaluateAll((all) =>
          (
            all as unknown as {
              getBoundingClientRect(): { width: number; height: number };
              outerHTML: string;
              checkVisibility(): boolean;
              closest(of: string): unknown;
            }[]
          )
            .filter((one) => one.checkVisibility() && one.closest('.word, .note, .lead') === null)
            .map((one) => ({
              ...one.getBoundingClientRect(),
              width: one.getBoundingClientRect().width,
              height: one.getBoundingClientRect().height,
              html: one.outerHTML.slice(0, 120),
            })),
        );
      measured += sizes.length;
      expect(
        sizes.filter(({ width, height }) => width < 44 || height < 44).map(({ html }) => `${path}: ${html}`),
      ).toEqual([]);
    }
    expect(measured).toBeGreaterThan(80);
    await page.context().close();
  });

  it('GA13: Arabic stands mirrored: the way in begins on the right, pictures and figures stay as they are', async () => {
    const page = await open({ viewport: { width: 1440, height: 900 } });
    const left = async (address: string, selector: string) => {
      await page.goto(address);
      return (await page.locator(selector).first().boundingBox())!;
    };
    const english = await left(site, '.outings th');
    const arabic = await left(`${site}ar/index.html`, '.outings th');
    expect(english.x).toBeLessThan(100);
    expect(arabic.x + arabic.width).toBeGreaterThan(1340);
    expect(await page.locator('html').getAttribute('dir')).toBe('rtl');
    expect(await page.locator('.riders .quiet').first().textContent()).toBe('صورتان');
    await page.context().close();
  });

  it('GA14: with keys alone one comes from the first page to a rider’s day, and sees where one is', async () => {
    const page = await open({ viewport: { width: 1440, height: 900 }, javaScriptEnabled: true });
    await page.goto(site);
    const focused = () =>
      page.evaluate<{ text: string; outline: string; href: string }>(
        '(() => { const one = document.activeElement; return { text: one.textContent, outline: getComputedStyle(one).outlineStyle, href: one.href ?? "" }; })()',
      );
    const passed: string[] = [];
    for (let presses = 0; presses < 60; presses++) {
      await page.keyboard.press('Tab');
      const now = await focused();
      passed.push(now.text);
      expect(now.outline, now.text).toBe('solid');
      if (now.href.includes('/rider/')) break;
    }
    expect(passed.some((text) => text.includes('Deutsch'))).toBe(true);
    await page.keyboard.press('Enter');
    await page.waitForURL(/\/rider\//);
    expect(await page.locator('h1').textContent()).toBe('Your day, 2 pictures.');
    await page.context().close();
  });

  it('GA15: the first page and a rider’s day as they are read out', async () => {
    const page = await open({ javaScriptEnabled: false });
    await page.goto(site);
    expect(await page.locator('main').ariaSnapshot()).toMatchSnapshot('first page');
    await page.goto(site + rider);
    expect(await page.locator('main').ariaSnapshot()).toMatchSnapshot('rider’s day');
    await page.context().close();
  });

  it('GA16: stands with nobody, with one rider and with four hundred, and under long and hostile names', async () => {
    const page = await open({ viewport: { width: 320, height: 640 } });
    for (const spec of [{ riders: 0 }, { riders: 1 }, { riders: 400 }, { riders: 3, longNames: true }]) {
      const shown = shownGallery(spec);
      const there = await serve(shown);
      for (const path of [
        'index.html',
        'ar/index.html',
        ...shown.riders.slice(0, 1).map(({ publicId }) => `rider/${publicId}.html`),
      ]) {
        await page.goto(there + path);
        await isNoWiderThanScreen(page);
        expect(await page.locator('h1').count()).toBe(1);
      }
      if (spec.longNames) expect(await page.locator('header').textContent()).toContain('<b>& friends</b>');
    }
    await page.context().close();
  }, 120_000);

  it('GA7: each screen gets the picture that fits it, never one much too small or too large', async () => {
    const cases = [
      { how: { viewport: PHONE, deviceScaleFactor: 2 }, path: rider, least: 0.8, most: 2.2 },
      { how: { viewport: { width: 1440, height: 900 }, deviceScaleFactor: 1 }, path: rider, least: 0.9, most: 2.2 },
      { how: { viewport: PHONE, deviceScaleFactor: 2 }, path: 'index.html', least: 0.8, most: 2.2 },
    ];
    for (const { how, path, least, most } of cases) {
      const page = await open(how);
      await page.goto(site + path, { waitUntil: 'load' });
      const [picture] = await page
        .locator('main picture img')
        .evaluateAll((all) =>
          (all as unknown as { currentSrc: string; naturalWidth: number; clientWidth: number }[]).map(
            ({ currentSrc, clientWidth }) => ({ currentSrc, clientWidth }),
          ),
        );
      const width = Number(/-(\d+)\.(?:webp|avif)$/.exec(picture!.currentSrc)?.[1]);
      const wanted = picture!.clientWidth * how.deviceScaleFactor;
      expect(width / wanted, picture!.currentSrc).toBeGreaterThan(least);
      expect(width / wanted, picture!.currentSrc).toBeLessThan(most);
      await page.context().close();
    }
  });

  it('GA6: on a phone nothing moves when letters and pictures come late', async () => {
    const page = await open();
    await page.route(/\.(?:woff2|avif|webp)$/, async (route) => {
      await new Promise((resolve) => setTimeout(resolve, 700));
      await route.continue();
    });
    for (const path of ['index.html', 'ar/index.html', 'session-n1.html', rider]) {
      await page.goto(site + path, { waitUntil: 'networkidle' });
      const moved = await page.evaluate<number>(
        `new Promise((resolve) => { let sum = 0; new PerformanceObserver((list) => { for (const one of list.getEntries()) sum += one.value; }).observe({ type: 'layout-shift', buffered: true }); setTimeout(() => resolve(sum), 300); })`,
      );
      expect(moved, path).toBe(0);
    }
    await page.context().close();
  });

  it('GA8: who cannot be found is asked session, time, colours and number, and a form carries them without scripts', async () => {
    const page = await open({ javaScriptEnabled: false });
    const sent = new Promise<string>((resolve) => {
      void page.route(`${SHOWN_SHOP.address}/**`, async (route) => {
        resolve(`${route.request().method()} ${route.request().url()}?${route.request().postData()}`);
        await route.fulfill({ body: 'told' });
      });
    });
    await page.goto(`${site}session-n1.html`);
    await page.getByText('I can’t find me').last().click();
    expect(await page.getByLabel('Session').inputValue()).toBe('N1, 09:00');
    await page.getByLabel('About when').fill('09:12');
    await page.getByLabel('Colour of the bike').selectOption({ label: 'orange' });
    await page.getByLabel('Colour of the leathers').selectOption({ label: 'white' });
    await page.getByLabel(/Number/).fill('94');
    await page.getByLabel(/Where to answer/).fill('me@quill.invalid');
    await page.getByRole('button', { name: 'Send' }).click();
    const told = decodeURIComponent(await sent).replaceAll('+', ' ');
    expect(told).toContain(`POST ${SHOWN_SHOP.address}/${SHOWN_SHOP.meeting}/cannot-find-me?`);
    expect(told).toContain(
      'session=N1, 09:00&about=09:12&bike=orange&leathers=white&number=94&contact=me@quill.invalid',
    );
    await page.context().close();
  });

  it('GA9: who may be the same rider stands apart with how sure it is, and leads to that day', async () => {
    const page = await open({ javaScriptEnabled: false });
    await page.goto(site + rider);
    const apart = page.getByRole('region', { name: 'May also be you' });
    expect(await apart.locator('.guess').textContent()).toBe('34 of 100 sure');
    expect(await page.locator('.parts [data-picture]').count()).toBe(gallery.riders[0]!.pictures.length);
    await apart.getByRole('link').click();
    expect(page.url()).toContain(gallery.riders[0]!.perhaps[0]!.publicId);
    await page.context().close();
  });
});
