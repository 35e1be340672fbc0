/**
 * How long a question to the gallery's index takes over a season: 100,000 entries of 4,000 riders in files on the disk, every file
 * read anew for every question. Reference in the same process: a plain scan over all entries, which the tests hold the index
 * against. And on a slow phone: from the tap to the first card; of the index
 * only its list was fetched before, as soon as the page stood.
 */
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { type Criterion, readTop, search, TOP } from '../../src/core/handover/find/index.js';
import { findPage } from '../../src/gallery/findPage.js';
import { faceFiles, findFilesOf } from '../../src/gallery/index.js';
import { sitesOf } from '../../src/gallery/sites.js';
import { copyLook, readStyle } from '../../src/host/gallery/look.js';
import { findSeason, plainScan } from '../../test/builders/findSeason.js';
import { SEASON_PICTURES, seasonGallery } from '../../test/builders/seasonGallery.js';
import { serveFiles } from '../../test/builders/writtenGallery.js';
import { hasBrowser, openBrowser } from '../../test/e2e/deskBrowser.js';
import type { Figures } from '../../tools/figures.js';
import { CPU_SLOWDOWN, PHONE, SLOW_4G } from './index.js';

const ENTRIES = 100_000;
const RUNS = 15;
const PHONE_RUNS = 5;

const QUESTIONS: Readonly<Record<string, readonly Criterion[]>> = {
  'session, colour': [
    { facet: 'session', keys: ['104'] },
    { facet: 'bike', keys: ['orange'] },
  ],
  'group, leathers, time': [
    { facet: 'group', keys: ['f'] },
    { facet: 'leathers', keys: ['white'] },
    { facet: 'time', keys: ['40'] },
  ],
  number: [{ facet: 'number', keys: ['12'] }],
  'two colours, spot, class': [
    { facet: 'bike', keys: ['black', 'red'] },
    { facet: 'spot', keys: ['3'] },
    { facet: 'class', keys: ['twins'] },
  ],
};

export async function benchSearch(): Promise<Figures> {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-bench-search-'));
  try {
    await writeSeason(folder);
    return { ...(await onThisMachine(folder)), ...(await onAPhone(folder)) };
  } finally {
    await rm(folder, { recursive: true });
  }
}

async function writeSeason(folder: string): Promise<void> {
  const gallery = seasonGallery(findSeason(ENTRIES));
  const known = () => ({ class: null, name: null, card: null });
  const { files, findable } = findFilesOf(gallery, known, 'a1'.repeat(16), 'en');
  const page = findPage(sitesOf(gallery, { findable, style: await readStyle() })[0]!);
  for (const [path, text] of [...files, [page.path, page.html] as const]) await write(folder, path, text);
  await mkdir(join(folder, 'look'), { recursive: true });
  await copyLook(folder);
  const drawn = {
    create: {
      width: 480,
      height: 360,
      channels: 3,
      background: '#777',
      noise: { type: 'gaussian', mean: 128, sigma: 12 },
    },
  } as const;
  for (let n = 0; n < SEASON_PICTURES; n++)
    for (const { path, format, size } of faceFiles(gallery.riders[n]!.faceId))
      if (n === 0)
        await write(
          folder,
          path,
          await sharp(drawn).resize(size.widthPx, size.heightPx).toFormat(format, { quality: 45 }).toBuffer(),
        );
      else
        await write(
          folder,
          path,
          await readFile(join(folder, path.replace(gallery.riders[n]!.faceId, gallery.riders[0]!.faceId))),
        );
}

async function write(folder: string, path: string, content: string | Buffer): Promise<void> {
  await mkdir(dirname(join(folder, path)), { recursive: true });
  await writeFile(join(folder, path), content);
}

async function onThisMachine(folder: string): Promise<Figures> {
  const riders = findSeason(ENTRIES);
  const text = (name: string) => readFile(join(folder, 'find', name), 'utf8');
  const top = readTop(await text(TOP));
  let slowest = { ms: 0, name: '', plainMs: 0 };
  for (const [name, asked] of Object.entries(QUESTIONS)) {
    const ms = await best(() => search(top, asked, (file) => text(`${file}.txt`)));
    const plainMs = await best(async () => plainScan(riders, asked));
    console.log(
      `  ${name}: ${ms.median.toFixed(1)} ms (${ms.min.toFixed(1)} to ${ms.max.toFixed(1)}); plain scan ${plainMs.median.toFixed(1)} ms`,
    );
    if (ms.median > slowest.ms) slowest = { ms: ms.median, name, plainMs: plainMs.median };
  }
  const opening = await best(async () => readTop(await text(TOP)));
  const note = `the slowest of ${Object.keys(QUESTIONS).length} questions (${slowest.name}), files read each time, median of ${RUNS}; a plain scan ${slowest.plainMs.toFixed(0)} ms; the list of files, read once, ${opening.median.toFixed(1)} ms`;
  return {
    'gallery.searchMs100k': { value: slowest.ms, unit: 'ms', better: 'lower', note },
    'gallery.searchToPlainScan': { value: slowest.ms / slowest.plainMs, unit: 'times', better: 'lower' },
  };
}

async function best(work: () => Promise<unknown>): Promise<{ min: number; median: number; max: number }> {
  await work();
  const times: number[] = [];
  for (let run = 0; run < RUNS; run++) {
    const started = performance.now();
    await work();
    times.push(performance.now() - started);
  }
  times.sort((a, b) => a - b);
  return { min: times[0]!, median: times[RUNS >> 1]!, max: times.at(-1)! };
}

/** Empty where no browser is there; that is told loudly by the look for it. */
async function onAPhone(folder: string): Promise<Figures> {
  if (!hasBrowser('finding on a slow phone')) return {};
  const server = await serveFiles(folder);
  const browser = await openBrowser();
  try {
    const times: number[] = [];
    let fetched = 0;
    for (let run = 0; run < PHONE_RUNS; run++) {
      const context = await browser.newContext({
        viewport: PHONE,
        deviceScaleFactor: 3,
        isMobile: true,
        hasTouch: true,
      });
      const page = await context.newPage();
      const devtools = await context.newCDPSession(page);
      await devtools.send('Network.enable');
      await devtools.send('Network.emulateNetworkConditions', SLOW_4G);
      await devtools.send('Emulation.setCPUThrottlingRate', { rate: CPU_SLOWDOWN });
      await page.goto(server.site, { waitUntil: 'load' });
      await page.waitForLoadState('networkidle');
      server.asked.length = 0;
      times.push(await page.evaluate<number>(TAP_TO_CARD));
      fetched = server.asked.filter(({ path }) => path.startsWith('/find/')).reduce((sum, { bytes }) => sum + bytes, 0);
      await context.close();
    }
    times.sort((a, b) => a - b);
    const note = `from the tap on a colour to the first card among ${ENTRIES.toLocaleString('en')} entries, only the list fetched before; slow 4G, processor four times slower; median of ${PHONE_RUNS}, at most ${times.at(-1)!.toFixed(0)}; ${(fetched / 1000).toFixed(0)} kB of index and cards, uncompressed`;
    return { 'gallery.resultMs100k': { value: times[PHONE_RUNS >> 1]!, unit: 'ms', better: 'lower', note } };
  } finally {
    await browser.close();
    await server.close();
  }
}

/** The slowest kind of question: no session, so that thousands fit. */
const TAP_TO_CARD = `new Promise((resolve) => {
  const list = document.querySelector('main .riders');
  const started = performance.now();
  new MutationObserver(() => list.querySelector('[data-rider]') && requestAnimationFrame(() => resolve(performance.now() - started))).observe(list, { childList: true });
  document.querySelector('[data-colour="orange"]').click();
})`;
