/** Papers, kit and packing at the desk in a real browser. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openOffice } from '../../src/host/office/officeFile.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, PHONE, until, useDesks, WIDE } from './sitting.js';

const MEETING =
  'asks 5,000,000 GBP\nasks age 18\naccreditation granted\nright to sell granted; 15 %\nsign-on 07:30\nbriefing none';

describe.skipIf(!hasBrowser('papers in a browser'))('before leaving home, in a browser', () => {
  const { sit } = useDesks();
  let folder: string;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-papers-'));
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));
  const withPapers = () => ({ office: openOffice(join(folder, 'office.json')) });
  const missing = (page: Page) => page.locator('.missing > li').allTextContents();

  it('PL935: by keyboard alone papers are written, a wrong line is named, and a box is ticked', async () => {
    const { page, base } = await sit({ frames: 60, riders: 4 }, withPapers());
    await goTo(page, base, '/before');
    await page.waitForSelector('.office');
    expect((await missing(page)).join(' ')).toContain('The right to sell is not said');

    await page.getByLabel('Papers of this meeting').focus();
    await page.keyboard.insertText('sign-on early');
    await until(page, '.office .wrongs', 'Line 1: expected sign-on and a time like 07:30');
    await page.keyboard.press('Control+a');
    await page.keyboard.insertText(MEETING);
    await page.keyboard.press('Tab');
    await page.keyboard.press('n');
    await until(page, '.said-line', 'The papers of this meeting are written down.');
    await expect.poll(async () => (await missing(page)).join(' ')).not.toContain('right to sell');
    expect(await page.locator('.settled-line').allTextContents()).toContain('Sign on at 07:30.');

    await page.locator('.packing input').first().focus();
    await page.keyboard.press('Space');
    await until(page, '.said-line', 'In the bag.');
    await page.reload();
    await page.waitForSelector('.office');
    expect(await page.locator('.packing input').first().isChecked()).toBe(true);
    expect(await readFile(join(folder, 'office.json'), 'utf8')).toContain('07:30');
  });

  it('PL935: while the day is ahead what is missing is said right under the opening; on the day it is not', async () => {
    const aWeekBefore = () => Date.parse('2026-09-12T18:00:00Z');
    const { page, base } = await sit({ frames: 60, riders: 4 }, { ...withPapers(), now: aWeekBefore });
    await goTo(page, base, '/before');
    await until(page, '.opening .urgent', 'things are missing. Before leaving home');
    await page.locator('.opening .urgent a').focus();
    await page.keyboard.press('Enter');
    await expect
      .poll(() => page.locator('#office').evaluate((one) => one.getBoundingClientRect().top))
      .toBeLessThan(200);
    const onTheDay = await sit({ frames: 60, riders: 4 }, withPapers());
    await goTo(onTheDay.page, onTheDay.base, '/before');
    await onTheDay.page.waitForSelector('.office');
    expect(await onTheDay.page.locator('.opening .urgent').count()).toBe(0);
  });

  it('PL935: a desk without papers shows none', async () => {
    const { page, base } = await sit({ frames: 60, riders: 4 });
    await goTo(page, base, '/before');
    await page.waitForLoadState('networkidle');
    expect(await page.locator('.office, .trouble').count()).toBe(0);
  });

  for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
    for (const colorScheme of ['light', 'dark'] as const)
      it(`PL935: axe finds nothing serious and nothing hangs over the side, ${size}, ${colorScheme}`, async () => {
        const context = { viewport, colorScheme, bypassCSP: true };
        const { page, base } = await sit({ frames: 60, riders: 4 }, withPapers(), context);
        await goTo(page, base, '/before');
        await page.waitForSelector('.office');
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, '.packing label, .office .act:not(.off)', size, 5);
      });
});
