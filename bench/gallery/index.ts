/**
 * How soon a rider sees the gallery on a phone with poor signal: 120 riders, 3,000 pictures, a plain server of files without
 * compression, nothing kept from before.
 *
 * Slow 4G is 150 ms and 1.6 Mbit/s down, 750 kbit/s up (Lighthouse, docs/throttling.md: "roughly the bottom 25 % of 4G
 * connections"). The browser delays whole requests, not packets, so that the same page's factors are applied: delay times 3.75,
 * rates times 0.9. The processor is slowed four times.
 */
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { shownGallery, writeShown } from '../../test/builders/shownGallery.js';
import { serveFiles } from '../../test/builders/writtenGallery.js';
import { hasBrowser, openBrowser } from '../../test/e2e/deskBrowser.js';
import type { Figures } from '../../tools/figures.js';

const RIDERS = 120;
const PICTURES = 3000;
const RUNS = 5;
export const SLOW_4G = {
  offline: false,
  latency: 150 * 3.75,
  downloadThroughput: ((1.6 * 1024 * 1024) / 8) * 0.9,
  uploadThroughput: ((750 * 1024) / 8) * 0.9,
} as const;
export const CPU_SLOWDOWN = 4;
export const PHONE = { width: 390, height: 844 } as const;

/** The last candidate once the page has been still, and how much of it moved. */
const PAINTED = `new Promise((resolve) => {
  let lcp = null;
  let shift = 0;
  new PerformanceObserver((list) => { for (const one of list.getEntries()) lcp = { ms: one.startTime, what: one.element?.tagName ?? '' }; }).observe({ type: 'largest-contentful-paint', buffered: true });
  new PerformanceObserver((list) => { for (const one of list.getEntries()) shift += one.value; }).observe({ type: 'layout-shift', buffered: true });
  setTimeout(() => resolve({ lcp, shift }), 1500);
})`;

interface Seen {
  readonly ms: number;
  readonly what: string;
  readonly shift: number;
  readonly scriptBytes: number;
  readonly bytes: number;
}

async function see(browser: Browser, address: string): Promise<Seen> {
  const context = await browser.newContext({ viewport: PHONE, deviceScaleFactor: 3, isMobile: true, hasTouch: true });
  try {
    const page = await context.newPage();
    const devtools = await context.newCDPSession(page);
    await devtools.send('Network.enable');
    await devtools.send('Network.emulateNetworkConditions', SLOW_4G);
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: CPU_SLOWDOWN });
    const sizes: Promise<{ script: boolean; bytes: number } | null>[] = [];
    page.on('response', (response) => {
      const script = response.request().resourceType() === 'script';
      // What still comes when the page is closed is not counted.
      const size = response.body().then(({ length }) => ({ script, bytes: length }));
      sizes.push(size.catch(() => null));
    });
    await page.goto(address, { waitUntil: 'load' });
    const { lcp, shift } = await page.evaluate<{ lcp: { ms: number; what: string } | null; shift: number }>(PAINTED);
    if (lcp === null) throw new Error(`Expected a largest paint of ${address}, but the browser told none.`);
    const fetched = (await Promise.all(sizes)).filter((one) => one !== null);
    const sum = (all: typeof fetched) => all.reduce((total, { bytes }) => total + bytes, 0);
    return { ...lcp, shift, bytes: sum(fetched), scriptBytes: sum(fetched.filter(({ script }) => script)) };
  } finally {
    await context.close();
  }
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** Empty where no browser is there; that is told loudly by the look for it. */
export async function benchGallery(): Promise<Figures> {
  if (!hasBrowser('the gallery on a slow phone')) return {};
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-bench-gallery-'));
  const gallery = shownGallery({ riders: RIDERS, picturesEach: PICTURES / RIDERS });
  await writeShown(folder, gallery);
  const server = await serveFiles(folder);
  const browser = await openBrowser();
  try {
    const paths = { first: '', session: 'session-n1.html', rider: `rider/${gallery.riders[0]!.publicId}.html` };
    const medians: Record<string, number> = {};
    let first: Seen | null = null;
    for (const [name, path] of Object.entries(paths)) {
      const runs: Seen[] = [];
      for (let run = 0; run < RUNS; run++) runs.push(await see(browser, server.site + path));
      const times = runs.map(({ ms }) => ms);
      medians[name] = median(times);
      const { what, shift, bytes } = runs[0]!;
      const html = (await stat(join(folder, path || 'index.html'))).size;
      console.log(
        `  ${name}: largest paint ${median(times).toFixed(0)} ms (${Math.min(...times).toFixed(0)} to ${Math.max(...times).toFixed(0)}), a ${what}; ${(bytes / 1000).toFixed(0)} kB in all, ${(html / 1000).toFixed(0)} kB of it the page; layout shift ${Math.max(...runs.map((one) => one.shift), shift).toFixed(3)}`,
      );
      first ??= runs[0]!;
    }
    const others = `session’s page ${medians.session?.toFixed(0)} ms, rider’s ${medians.rider?.toFixed(0)} ms, each opened cold`;
    const note = `first page, ${RIDERS} riders, ${PICTURES} pictures, median of ${RUNS}; slow 4G, processor four times slower; ${others}`;
    return {
      'gallery.lcpMs': { value: medians.first!, unit: 'ms', better: 'lower', note },
      'gallery.firstPageScriptKB': {
        value: first!.scriptBytes / 1000,
        unit: 'KB',
        better: 'lower',
        note: 'not needed to look: the page works without it',
      },
    };
  } finally {
    await browser.close();
    await server.close();
    await rm(folder, { recursive: true });
  }
}
