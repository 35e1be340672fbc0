/** Where one sits in choosing, in a real browser: after taking back, after the page was opened again, and at an address of nobody. */
import { describe, expect, it } from 'vitest';
import { atRichRider, EVENING, isThere, riderHere } from './choosingPage.js';
import { hasBrowser } from './deskBrowser.js';
import { isTakenBack, until, useDesks, words } from './sitting.js';

const TESTS = 3;

describe.skipIf(!hasBrowser(`${TESTS} browser tests of where one sits in choosing`))(
  'where one sits in choosing',
  () => {
    const { sit } = useDesks();

    it('CS8, CS12: the rest as proposed, taken back, goes back to that rider and those minutes', async () => {
      const { page, base } = await sit({ ...EVENING, riders: 60, frames: 3000 });
      await atRichRider(page, base);
      await page.locator('.minutes input').fill('2');
      await page.locator('h1').click();
      await page.keyboard.press('i');
      await until(page, '.left-part h2', 'in your 2 min');
      await page.keyboard.press('ArrowDown');
      const [who, left] = [await riderHere(page), await words(page, '.left-part h2')];
      await page.keyboard.press('r');
      await until(page, 'h1', 'Every set was gone through.');
      await until(page, '.said-line.said', 'sets stand as proposed');
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      await isThere(page);
      expect(await riderHere(page)).toBe(who);
      expect(await words(page, '.left-part h2')).toBe(left);
    });

    it('CS2, CS12: opened again, the page knows who was passed over, where one was, and the minutes', async () => {
      const { page, base } = await sit({ ...EVENING, riders: 60, frames: 3000 });
      await page.goto(`${base}/choosing`);
      await isThere(page);
      for (const before of ['One', 'Two', 'Three']) {
        await page.keyboard.press('ArrowDown');
        await until(page, '.left-part', `${before} before this one`);
      }
      const who = await riderHere(page);
      await expect.poll(() => page.evaluate(`sessionStorage.getItem('tyrewall.choosing')`)).toContain('order');
      await expect.poll(() => page.url()).toContain('rider=');
      for (const again of [page.url(), `${base}/choosing`]) {
        await page.goto(again);
        await isThere(page);
        expect(await riderHere(page)).toBe(who);
        await until(page, '.left-part', 'Three before this one are left for the end.');
      }
      await page.locator('.minutes input').fill('2');
      await page.locator('h1').click();
      await page.keyboard.press('i');
      await until(page, '.left-part h2', 'in your 2 min');
      await expect.poll(() => page.evaluate(`sessionStorage.getItem('tyrewall.choosing')`)).toContain('"minutes":2');
      await page.reload();
      await isThere(page);
      expect(await words(page, '.left-part h2')).toContain('in your 2 min');
    });

    it('CS17: an address of nobody says so, and whose turn it is stands there', async () => {
      const { page, base } = await sit(EVENING);
      await page.goto(`${base}/choosing?rider=k-nobody`);
      await isThere(page);
      await until(page, '.said-line.refused', 'nobody is called “k-nobody” now');
      expect(await riderHere(page)).toMatch(/^[NIF]-/);
      await expect.poll(() => page.url()).not.toContain('nobody');
    });
  },
);
