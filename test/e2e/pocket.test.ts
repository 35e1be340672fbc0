/** The pocket page in a browser: beside the track, without a signal, and what comes back from it. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { extname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readClockCard } from '../../src/core/measure/cards/clockCard.js';
import type { RgbImage } from '../../src/core/measure/index.js';
import { codeOfDay, type PocketTaps, readCode } from '../../src/core/plan/pocket/index.js';
import { readQr } from '../../src/host/cards/readQr.js';
import { MOST_FILE_BYTES, pocketFile, pocketFolder, zlibSqueezer } from '../../src/host/pocket/index.js';
import { buildPocketPage } from '../builders/builtPocketPage.js';
import { typicalPocketDay } from '../builders/pocketDay.js';
import { hasBrowser, openBrowser } from './deskBrowser.js';

const TESTS = 9;
const PHONE = { width: 390, height: 844 };
/** 14:15:48 at the circuit: N6 is out at Beacon. */
const DURING_N6 = Date.UTC(2026, 8, 19, 13, 15, 48);

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
};

interface Site {
  readonly server: Server;
  readonly base: string;
  /** What was asked for, whole. */
  readonly asked: string[];
}

/** Any web server that hands out files: all the page asks of one. */
async function serve(): Promise<Site> {
  const folder = await pocketFolder();
  const asked: string[] = [];
  const server = createServer((request, response) => {
    asked.push(`${request.method} ${request.url}`);
    const path = (request.url ?? '/').split('?')[0]!;
    readFile(join(folder, path === '/' ? 'index.html' : path)).then(
      (bytes) => response.setHeader('content-type', TYPES[extname(path)] ?? 'text/html').end(bytes),
      () => response.writeHead(404).end(),
    );
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return { server, asked, base: `http://127.0.0.1:${(server.address() as AddressInfo).port}/` };
}

const stop = ({ server }: Site) =>
  new Promise<void>((done) => {
    server.close(() => done());
    server.closeAllConnections();
  });

async function qrOn(page: Page): Promise<string> {
  const picture = await page.locator('.qr').screenshot();
  const { data, info } = await sharp(picture).removeAlpha().raw().toBuffer({ resolveWithObject: true });
  const image: RgbImage = { data, width: info.width, height: info.height };
  const [code] = await readQr(image);
  return code?.text ?? 'nothing was read';
}

async function tapsOf(text: string): Promise<PocketTaps> {
  const read = await readCode(text, zlibSqueezer);
  if (read.kind !== 'taps') throw new Error(`Expected taps but got ${JSON.stringify(read)}`);
  return read.taps;
}

const press = (page: Page, key: string) => page.locator(`[data-key="${key}"]`).click();

describe.skipIf(!hasBrowser(`${TESTS} browser tests of the pocket page`))('the pocket page', () => {
  let browser: Browser;
  let scratch: string;
  let code: string;

  beforeAll(async () => {
    await buildPocketPage();
    browser = await openBrowser();
    scratch = await mkdtemp(join(tmpdir(), 'pocket-'));
    code = (await codeOfDay(typicalPocketDay, zlibSqueezer)).code;
  });
  afterAll(async () => {
    await browser.close();
    await rm(scratch, { recursive: true, force: true });
  });

  async function phone(at = DURING_N6): Promise<Page> {
    const context = await browser.newContext({
      viewport: PHONE,
      deviceScaleFactor: 2,
      hasTouch: true,
      serviceWorkers: 'allow',
    });
    const page = await context.newPage();
    await page.clock.install({ time: at });
    return page;
  }
  const close = (page: Page) => page.context().close();

  it('PL710: opened once by a code it works with the server gone, and what was tapped is still there', async () => {
    const site = await serve();
    const page = await phone();
    await page.goto(`${site.base}#${code}`);
    await page.waitForSelector('.acts');
    await page.evaluate('navigator.serviceWorker.ready.then(() => null)');
    await expect
      .poll(() => page.evaluate(`caches.open('pocket-page').then((kept) => kept.keys()).then((keys) => keys.length)`))
      .toBe(3);
    await press(page, 'got-3f09c1');
    await press(page, 'late');
    await stop(site);
    await page.goto(site.base);
    await page.waitForSelector('.acts');
    expect(await page.locator('h1').textContent()).toBe('1 Beacon');
    expect(await page.locator('.is-got').count()).toBe(1);
    await press(page, 'hand-back');
    expect(await page.locator('.taps li').count()).toBe(2);
    await close(page);
  });

  it('PL711: the day in the address is sent to nobody', async () => {
    const site = await serve();
    const page = await phone();
    const requests: string[] = [];
    page.context().on('request', (request) => requests.push(request.url()));
    await page.goto(`${site.base}#${code}`);
    await page.waitForSelector('.acts');
    await press(page, 'red-flag');
    await press(page, 'hand-back');
    await page.waitForSelector('.qr');
    const files = ['/', '/worker.js', '/manifest.webmanifest', '/icon.svg'].map((path) => `GET ${path}`);
    expect(site.asked.length).toBeGreaterThan(0);
    for (const asked of site.asked) expect(files).toContain(asked);
    for (const url of requests.filter((one) => !one.startsWith('data:'))) expect(url.startsWith(site.base)).toBe(true);
    // The code is taken out of the address once it is kept.
    expect(page.url()).toBe(site.base);
    await close(page);
    await stop(site);
  });

  it('PL712: as one file it holds its day, is small enough, asks for nothing and cannot', async () => {
    const crop = new Uint8Array(
      await sharp({ create: { width: 104, height: 74, channels: 3, background: '#8fa37c' } })
        .jpeg()
        .toBuffer(),
    );
    const day = { ...typicalPocketDay, watch: typicalPocketDay.watch.map((one) => ({ ...one, crop })) };
    const file = await pocketFile(day);
    expect(Buffer.byteLength(file)).toBeLessThanOrEqual(MOST_FILE_BYTES);
    await writeFile(join(scratch, 'day.html'), file);
    const page = await phone();
    const requests: string[] = [];
    page.context().on('request', (request) => requests.push(request.url()));
    const address = pathToFileURL(join(scratch, 'day.html')).href;
    await page.goto(address);
    await page.waitForSelector('.watch img');
    await press(page, 'out');
    await page.reload();
    await page.waitForSelector('.acts');
    await press(page, 'hand-back');
    expect(await page.locator('.taps li').count()).toBe(1);
    expect([...new Set(requests.filter((url) => !url.startsWith('data:')))]).toEqual([address]);
    expect(await page.evaluate(`fetch('https://pocket.example/').then(() => 'sent', () => 'refused')`)).toBe('refused');
    expect(requests.some((url) => url.includes('pocket.example'))).toBe(false);
    await close(page);
  });

  it('PL713: what was tapped comes back by the code on its screen and by the file it saves', async () => {
    await writeFile(join(scratch, 'taps.html'), await pocketFile(typicalPocketDay));
    const page = await phone();
    await page.goto(pathToFileURL(join(scratch, 'taps.html')).href);
    await page.waitForSelector('.acts');
    await press(page, 'got-07e8aa');
    await press(page, 'red-flag');
    await page.clock.runFor(120_000);
    await press(page, 'goes-on');
    await press(page, 'late');
    await press(page, 'take-back');
    await press(page, 'hand-back');
    await page.waitForSelector('.qr');
    const { taps, eastMin, dayCheck } = await tapsOf(await qrOn(page));
    expect([eastMin, dayCheck]).toEqual([60, (await codeOfDay(typicalPocketDay, zlibSqueezer)).check]);
    const at = taps[1]!.at;
    expect(Math.abs(at - (DURING_N6 + 3_600_000))).toBeLessThan(60_000);
    expect(taps).toMatchObject([
      { kind: 'got', riderTag: '07e8aa', spot: 'beacon', isUndone: false },
      { kind: 'red-flag', isUndone: false },
      { kind: 'resumed', stoppedAt: at, isUndone: false },
      { kind: 'late', slot: 'I6', byMin: 5, isUndone: true },
    ]);
    const [saved] = await Promise.all([page.waitForEvent('download'), press(page, 'save')]);
    expect(saved.suggestedFilename()).toBe('taps-2026-09-19.txt');
    expect((await tapsOf(await readFile(await saved.path(), 'utf8'))).taps).toEqual(taps);
    await close(page);
  });

  it('PL714: the clock card tells this second, the body and the next session, and a new one each second', async () => {
    await writeFile(join(scratch, 'clock.html'), await pocketFile(typicalPocketDay));
    const page = await phone();
    await page.goto(pathToFileURL(join(scratch, 'clock.html')).href);
    await page.waitForSelector('.acts');
    await press(page, 'clock-card');
    await press(page, 'body-2');
    await page.clock.pauseAt(DURING_N6 + 60_400);
    const first = readClockCard(await qrOn(page));
    expect(first).toEqual({ kind: 'clock-card', shownAt: DURING_N6 + 60_000, body: 2, next: 'I6' });
    await page.clock.runFor(3000);
    expect(readClockCard(await qrOn(page))?.shownAt).toBe(DURING_N6 + 63_000);
    await close(page);
  });

  it('PL715: figures count down, are as large as they must be, and every target has room for a thumb', async () => {
    await writeFile(join(scratch, 'size.html'), await pocketFile(typicalPocketDay));
    const page = await phone();
    await page.goto(pathToFileURL(join(scratch, 'size.html')).href);
    await page.waitForSelector('.acts');
    await page.clock.pauseAt(DURING_N6 + 30_000);
    const before = await page.locator('.countdown').textContent();
    await page.clock.runFor(10_000);
    const after = await page.locator('.countdown').textContent();
    const seconds = (text: string | null) => text!.split(':').reduce((sum, part) => sum * 60 + Number(part), 0);
    expect(seconds(before) - seconds(after)).toBe(10);
    for (const view of ['now', 'hand-back', 'clock-card']) {
      if (view !== 'now') await press(page, view);
      const { fonts, targets, face } = (await page.evaluate(`(() => ({
        face: document.fonts.check('17px "Archivo Variable"'),
        fonts: [...document.querySelectorAll('#pocket *')].filter((one) => one.textContent.trim() && one.getClientRects().length)
          .map((one) => parseFloat(getComputedStyle(one).fontSize)),
        targets: [...document.querySelectorAll('button:not(.small), .wide')].map((one) => one.getBoundingClientRect()).map(({ width, height }) => [width, height]),
      }))()`)) as { fonts: number[]; targets: number[][]; face: boolean };
      expect(face).toBe(true);
      expect(Math.min(...fonts)).toBeGreaterThanOrEqual(14.5);
      expect(targets.length).toBeGreaterThan(1);
      for (const [width, height] of targets) expect([width! >= 62, height! >= 74]).toEqual([true, true]);
      if (view === 'now') expect(Math.max(...fonts)).toBe(82);
      else await press(page, 'back');
    }
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(PHONE.width);
    await close(page);
  });

  it('PL716: axe finds nothing on any of its views', async () => {
    const site = await serve();
    const page = await phone();
    const check = async (): Promise<void> => {
      await page.evaluate(axe.source);
      const result = await page.evaluate(() => (globalThis as unknown as { axe: typeof axe }).axe.run());
      expect(result.passes.length).toBeGreaterThan(5);
      expect(result.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    };
    await page.goto(site.base);
    await page.waitForSelector('.no-day');
    await check();
    await page.goto(`${site.base}#${code}`);
    await page.waitForSelector('.acts');
    await press(page, 'got-3f09c1');
    await press(page, 'red-flag');
    await check();
    for (const view of ['hand-back', 'clock-card']) {
      await press(page, view);
      await page.waitForSelector('.qr');
      await check();
      await press(page, 'back');
    }
    await close(page);
    await stop(site);
  });

  it('PL717: a damaged code is refused in a sentence and what was there stays; a file works as well', async () => {
    const site = await serve();
    const page = await phone();
    await page.goto(`${site.base}#${code.slice(0, -9)}`);
    await page.waitForSelector('.no-day');
    expect(await page.locator('[role=alert]').textContent()).toMatch(
      /^Expected a .*day .* Scan the code on the laptop again/,
    );
    await writeFile(join(scratch, 'day.txt'), `${code}\n`);
    await page.setInputFiles('input[type=file]', join(scratch, 'day.txt'));
    await page.waitForSelector('.acts');
    expect(await page.locator('h1').textContent()).toBe('1 Beacon');
    await page.goto(`${site.base}#${code.slice(0, -7)}`);
    await expect.poll(() => page.locator('[role=alert]').textContent()).toMatch(/^Expected a /);
    expect(await page.locator('h1').textContent()).toBe('1 Beacon');
    await page.reload();
    await page.waitForSelector('.acts');
    expect(await page.locator('[role=alert]').textContent()).toMatch(/^Expected a /);
    await close(page);
    await stop(site);
  });

  it('PL718: a new plan at lunch keeps what was tapped, and does not count it a second time', async () => {
    const site = await serve();
    const page = await phone();
    await page.goto(`${site.base}#${code}`);
    await page.waitForSelector('.acts');
    await press(page, 'late');
    expect(await page.locator('.strip').getAttribute('aria-label')).toContain('I6 14:25');
    const later = { ...typicalPocketDay, madeMin: 14 * 60 + 16 };
    await page.goto(`${site.base}#${(await codeOfDay(later, zlibSqueezer)).code}`);
    await expect.poll(() => page.locator('.strip').getAttribute('aria-label')).toContain('I6 14:20');
    await press(page, 'hand-back');
    expect(await page.locator('.taps li').count()).toBe(1);
    await close(page);
    await stop(site);
  });
});
