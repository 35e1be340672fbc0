/** The choosing sheet in a browser: how to come to it, and who stands there. */
import type { Page } from 'playwright-core';
import type { ChoosingView } from '../../src/server/choosing/types.js';
import { words } from './sitting.js';

export const EVENING = { frames: 1200, riders: 18, untilHour: 18 };

/** At a rider of whom much is kept, with what was judged there. */
export async function atRichRider(page: Page, base: string): Promise<string> {
  const { riders } = (await (await page.request.get(`${base}/api/choosing`)).json()) as ChoosingView;
  const rich = riders.find(({ isBelowLeast }) => !isBelowLeast)!;
  await page.goto(`${base}/choosing?rider=${rich.key}`);
  await isThere(page);
  await page.locator('.part-shot img').first().waitFor();
  return rich.key;
}

export const isThere = (page: Page): Promise<void> =>
  page.locator('.choosing-sheet:not([aria-busy]) .side-head').first().waitFor();

export const riderHere = (page: Page): Promise<string> => words(page, '.choosing-head .code');
