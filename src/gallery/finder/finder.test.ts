import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serveFiles, writeGallery } from '../../../test/builders/writtenGallery.js';
import type { PersonId, RiderId } from '../../core/ids.js';
import type { Decision } from '../../core/log/types.js';
import { numberCardText } from '../../core/measure/cards/index.js';
import { numberCardToken } from '../../host/cards/index.js';
import { LANGUAGES } from '../words/index.js';
import { finderWords } from './words.js';

const SCRIPT = new URL('../look/find.js', import.meta.url).pathname;

describe('the gallery’s script', () => {
  it('FN8: is what its source says, and at most 15 kB', async () => {
    const built = await build({
      configFile: new URL('../../../vite.gallery.config.ts', import.meta.url).pathname,
      logLevel: 'silent',
      build: { write: false },
    });
    const [first] = Array.isArray(built) ? built : [built];
    const chunk = 'output' in first! ? first.output[0] : null;
    expect(await readFile(SCRIPT, 'utf8'), 'npx vite build -c vite.gallery.config.ts').toBe(chunk?.code);
    expect((await stat(SCRIPT)).size).toBeLessThanOrEqual(15_000);
  });

  it('FN8: says all it says in every language, with the same holes', () => {
    const holes = (text: string) => [...text.matchAll(/\{\w+\}/g)].map(([hole]) => hole).sort();
    for (const language of LANGUAGES)
      for (const [key, english] of Object.entries(finderWords.en)) {
        const here = finderWords[language][key as keyof typeof finderWords.en];
        if (typeof english === 'string' || typeof here === 'string') {
          expect(holes(here as string), `${language}.${key}`).toEqual(holes(english as string));
          continue;
        }
        const forms = new Intl.PluralRules(language).resolvedOptions().pluralCategories;
        expect(Object.keys(here).sort(), `${language}.${key}`).toEqual([...forms].sort());
        expect(holes(here.other)).toEqual(holes(english.other));
      }
  });
});

const CHROMIUM = '/usr/bin/chromium';
const hasBrowser = existsSync(CHROMIUM);
if (!hasBrowser && process.env.REQUIRE_ORACLES === '1')
  throw new Error(`Expected a browser at ${CHROMIUM} for the tests of finding.`);
if (!hasBrowser) console.warn(`SKIPPED: no browser at ${CHROMIUM}; finding in a browser was not tested.`);

const TOKEN = numberCardToken('ab'.repeat(32), 12);
const DECISIONS: readonly Decision[] = [
  { kind: 'entries', entries: [{ event: '', class: 'Twins', number: '10', person: 'p1' }] },
  { kind: 'own-link', rider: 'first' as RiderId, salt: 'f'.repeat(32) },
];
const PEOPLE = {
  persons: [{ id: 'p1' as PersonId, name: 'Ada Example', cardToken: TOKEN }],
  mayBeNamed: true,
};

describe.skipIf(!hasBrowser)('finding in a browser', () => {
  let root: string;
  let browser: Browser;
  let small: Awaited<ReturnType<typeof serveFiles>>;
  let large: Awaited<ReturnType<typeof serveFiles>>;
  let told: Awaited<ReturnType<typeof listening>>;
  let day: Awaited<ReturnType<typeof writeGallery>>;

  beforeAll(async () => {
    root = await mkdtemp(join(tmpdir(), 'tyrewall-find-'));
    browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
    told = await listening();
    const about = { r0: { id: 'first' } };
    day = await writeGallery(
      join(root, 'small'),
      { decisions: DECISIONS, about },
      { people: PEOPLE, shop: told.site, address: 'https://pictures.example/ebbstone/' },
    );
    await writeGallery(join(root, 'large'), { riders: 400 });
    small = await serveFiles(join(root, 'small'));
    large = await serveFiles(join(root, 'large'));
  });
  afterAll(async () => {
    await browser.close();
    await Promise.all([small.close(), large.close(), told.close()]);
    await rm(root, { recursive: true });
  });

  const shown = (page: Page) =>
    page
      .locator('.riders > li:visible .who > span:first-child')
      .evaluateAll((all) => all.map((one) => one.textContent!.trim()));
  const says = (page: Page, text: string | RegExp) => page.locator('#fits').filter({ hasText: text }).waitFor();

  it('FN3: shows who fits exactly first, then who is near with what is near in it', async () => {
    const page = await browser.newPage();
    await page.goto(small.site);
    await page.getByRole('button', { name: 'red', exact: true }).click();
    await says(page, '1 rider fits. Tap once on yours. 1 more is near.');
    expect(await shown(page)).toEqual(
      ['red, white leathers 10', 'orange, white leathers 7'].map((one) => expect.stringContaining(one.split(',')[0]!)),
    );
    expect(await page.locator('.why').allTextContents()).toEqual(['near: orange']);
    await page.getByRole('button', { name: 'Start again' }).click();
    await says(page, /^Tap once on yours.$/);
    expect(await page.locator('.riders > li').count()).toBe(6);
    expect(await page.locator('.why').count()).toBe(0);
    await page.close();
  });

  it('FN2: time, spot, name and number are asked together with session and colour', async () => {
    const page = await browser.newPage();
    await page.goto(small.site);
    await page.getByText('Say more').click();
    await page.getByLabel('About what time?').fill('09:05');
    await says(page, /^3 riders fit/);
    await page.getByLabel('Where').selectOption('Beacon');
    await says(page, /^3 riders fit/);
    await page.getByLabel('Where').selectOption('Gannet');
    await says(page, 'Nobody fits all of that.');
    await page.getByRole('button', { name: 'Start again' }).click();
    await page.getByLabel('Name').fill('example');
    await says(page, /^1 rider fits/);
    expect(await page.locator('.riders > li:visible').getAttribute('data-number')).toBe('10');
    await page.getByLabel('A number on it?').fill('99');
    await says(page, 'Nobody fits all of that.');
    await page.close();
  });

  it('FN7: the number card a rider was handed brings them by its own code', async () => {
    const page = await browser.newPage();
    await page.goto(numberCardText({ number: 12, token: TOKEN }, small.site));
    await says(page, /^1 rider fits/);
    expect(await page.locator('.riders > li:visible').getAttribute('data-number')).toBe('10');
    await page.close();
  });

  it('FN4: among 400 riders a question fetches few files, and the cards of those who fit come', async () => {
    const page = await browser.newPage({ viewport: { width: 390, height: 844 } });
    await page.goto(large.site, { waitUntil: 'networkidle' });
    large.asked.length = 0;
    await page.getByRole('button', { name: 'orange' }).click();
    await page.getByRole('button', { name: /session N1/ }).click();
    await says(page, /riders fit/);
    await page.locator('.riders > li').first().waitFor();
    const lists = large.asked.filter(({ path }) => /find\/(?:top|\d+)\.txt/.test(path));
    expect(lists.length).toBeLessThanOrEqual(4);
    expect(lists.reduce((sum, { bytes }) => sum + bytes, 0)).toBeLessThan(20_000);
    await page.getByRole('button', { name: 'Show more' }).waitFor();
    const before = await page.locator('.riders > li').count();
    expect(before).toBe(24);
    await page.getByRole('button', { name: 'Show more' }).click();
    await page.locator('.riders > li').nth(before).waitFor();
    await page.locator('.riders a').first().click();
    expect(await page.locator('h1').textContent()).toMatch(/^Your day/);
    await page.goBack();
    await says(page, /riders fit/);
    expect(await page.getByRole('button', { name: 'orange' }).getAttribute('aria-pressed')).toBe('true');
    await page.close();
  });

  it('FN9: where the index cannot be fetched the boxes lead to pages again', async () => {
    const page = await browser.newPage();
    await page.goto(small.site);
    await page.route('**/find/**', (route) => route.abort());
    await page.getByRole('button', { name: 'orange' }).click();
    await says(page, 'The list could not be fetched.');
    await page.getByRole('link', { name: 'orange', exact: true }).click();
    expect(page.url()).toContain('colour-orange.html');
    await page.close();
  });

  it('FN12: "not me" puts one picture aside at once, also after a reload, and tells the photographer once there is a signal', async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    const rider = day.gallery.riders[0]!;
    await page.goto(`${small.site}rider/${rider.publicId}.html`);
    const all = await page.locator('.parts [data-picture]').count();
    const id = await page.locator('.parts [data-picture]').first().getAttribute('data-picture');
    await context.setOffline(true);
    await page.locator(`[data-picture="${id}"] button`).click();
    expect(await page.locator('.parts [data-picture]').count()).toBe(all - 1);
    expect(await page.locator('#aside [data-picture]').getAttribute('data-picture')).toBe(id);
    expect(told.forms).toEqual([]);
    await context.setOffline(false);
    await expect.poll(() => told.forms.length).toBe(1);
    expect(told.forms[0]).toEqual({ rider: rider.publicId, picture: id });
    await page.reload();
    expect(await page.locator('#aside [data-picture]').getAttribute('data-picture')).toBe(id);
    await page.getByRole('button', { name: /^Put back/ }).click();
    expect(await page.locator('.parts [data-picture]').count()).toBe(all);
    expect(await page.locator('.parts [data-picture]').first().getAttribute('data-picture')).toBe(id);
    expect(await page.locator('#aside').isVisible()).toBe(false);
    await page.reload();
    expect(told.forms).toHaveLength(1);
    await context.close();
  });

  it('FN13: a private page shows its rider alone, is linked from nowhere, and hands its address on', async () => {
    const context = await browser.newContext({ permissions: ['clipboard-read', 'clipboard-write'] });
    const page = await context.newPage();
    const [set] = day.sets;
    await page.goto(`${small.site}mine/${set!.id}.html`);
    const shownIds = await page
      .locator('[data-picture]')
      .evaluateAll((all) => all.map((one) => (one as HTMLElement).dataset.picture));
    expect(shownIds.sort()).toEqual(set!.rider.pictures.map((one) => one.id).sort());
    const hrefs = await page.locator('main a').evaluateAll((all) => all.map((one) => one.getAttribute('href')!));
    expect(hrefs.filter((href) => /rider\/|mine\//.test(href) && !href.startsWith('http'))).toEqual([]);
    expect(await page.getByRole('img', { name: 'Code with the address of this page' }).isVisible()).toBe(true);
    await page.getByRole('button', { name: 'Pass this address on' }).click();
    await page.getByText('Copied.').waitFor();
    expect(await page.evaluate('navigator.clipboard.readText()')).toBe(page.url());
    const elsewhere = [
      ...day.pages.filter((one) => !one.path.includes('mine/')).map((one) => one.html),
      ...day.files.values(),
    ];
    expect(elsewhere.filter((text) => text.includes(set!.id))).toEqual([]);
    await context.close();
  });

  it.each(['light', 'dark'] as const)(
    'FN14: axe finds nothing serious while somebody is found, on a private page and aside, %s',
    async (colorScheme) => {
      const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
      const page = await browser.newPage({ viewport: { width: 390, height: 844 }, colorScheme });
      const check = async (where: string) => {
        await page.evaluate(axe);
        const found = await page.evaluate<{
          violations: { id: string; impact: string; nodes: { html: string }[] }[];
          passes: unknown[];
        }>('axe.run()');
        expect(found.passes.length).toBeGreaterThan(10);
        const serious = found.violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
        expect(serious.map((one) => `${where}: ${one.id} ${one.nodes.map((node) => node.html).join(' ')}`)).toEqual([]);
        expect(await page.evaluate('document.documentElement.scrollWidth - window.innerWidth')).toBeLessThanOrEqual(0);
      };
      for (const path of ['', 'ar/']) {
        await page.goto(small.site + path);
        await page.locator('[data-colour="red"]').click();
        await page.locator('.why').waitFor();
        await check(`${path}finding`);
        await page.goto(`${small.site}${path}mine/${day.sets[0]!.id}.html`);
        await page.locator('[data-picture] button').first().click();
        await page.locator('#aside').waitFor();
        await check(`${path}aside`);
        await page.evaluate('localStorage.clear()');
      }
      await page.close();
    },
  );
});

/** Hears forms as the order service does, and says nothing back that a page of another site may read. */
async function listening() {
  const forms: Record<string, string>[] = [];
  const server = createServer((request, response) => {
    let body = '';
    request.on('data', (chunk) => {
      body += chunk;
    });
    request.on('end', () => {
      if (request.method === 'POST') forms.push(Object.fromEntries(new URLSearchParams(body)));
      response.writeHead(200, { 'cross-origin-resource-policy': 'cross-origin' }).end('told');
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return { site: `http://127.0.0.1:${port}/`, forms, close: () => new Promise((resolve) => server.close(resolve)) };
}
