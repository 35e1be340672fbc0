/**
 * What axe finds against the gallery's pages: every kind of page, in six languages, on light and on dark paper, at a phone's
 * size and a desk's. WCAG 2.0 to 2.2, A and AA, and axe's own good practice.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import axe from 'axe-core';
import type { Browser } from 'playwright-core';
import { LANGUAGES } from '../../src/gallery/index.js';
import { kindsOfPages, shownGallery, writeShown } from '../../test/builders/shownGallery.js';
import { serveFiles } from '../../test/builders/writtenGallery.js';
import { hasBrowser, openBrowser } from '../../test/e2e/deskBrowser.js';
import type { Figures } from '../figures.js';

const SIZES = [
  { width: 390, height: 844 },
  { width: 1440, height: 900 },
] as const;
/** Fewer passes than this mean that axe looked at an empty page. */
const LEAST_PASSES = 15;

export async function axeAccuracy(): Promise<{ rows: readonly string[]; figures: Figures }> {
  if (!hasBrowser('axe over the gallery')) return { rows: [], figures: {} };
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-axe-'));
  const gallery = shownGallery({ riders: 6 });
  await writeShown(folder, gallery);
  const server = await serveFiles(folder);
  const browser = await openBrowser();
  try {
    const addresses = LANGUAGES.flatMap((language) =>
      kindsOfPages(gallery).map((path) => `${server.site}${language === 'en' ? '' : `${language}/`}${path}`),
    );
    const found: string[] = [];
    let looked = 0;
    for (const viewport of SIZES)
      for (const colorScheme of ['light', 'dark'] as const) {
        found.push(...(await lookAt(browser, addresses, { viewport, colorScheme })));
        looked += addresses.length;
      }
    const note = `${looked} looks: ${addresses.length} pages, light and dark, phone and desk`;
    return {
      rows: [note, ...found],
      figures: { 'axe.serious': { value: found.length, unit: 'findings', better: 'lower', note } },
    };
  } finally {
    await browser.close();
    await server.close();
    await rm(folder, { recursive: true });
  }
}

async function lookAt(
  browser: Browser,
  addresses: readonly string[],
  how: { readonly viewport: (typeof SIZES)[number]; readonly colorScheme: 'light' | 'dark' },
): Promise<readonly string[]> {
  // The pages allow no script but their own.
  const context = await browser.newContext({ ...how, bypassCSP: true });
  const page = await context.newPage();
  const found: string[] = [];
  for (const address of addresses) {
    await page.goto(address);
    await page.evaluate(axe.source);
    const { violations, passes } = await page.evaluate(() => (globalThis as unknown as { axe: typeof axe }).axe.run());
    if (passes.length < LEAST_PASSES)
      throw new Error(
        `Expected axe to look at a whole page at ${address}, but only ${passes.length} of its rules had anything to look at.`,
      );
    for (const { id, impact, nodes } of violations)
      if (impact === 'serious' || impact === 'critical')
        found.push(
          `${new URL(address).pathname} (${how.viewport.width}, ${how.colorScheme}): ${id}: ${nodes[0]?.html}`,
        );
  }
  await context.close();
  return found;
}
