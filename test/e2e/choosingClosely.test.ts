/** A frame looked at closely in choosing, in a real browser: at 100 % and back, keys that cannot act, and room on a phone. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { CloseLooksView } from '../../src/server/judging/types.js';
import { atRichRider, EVENING } from './choosingPage.js';
import { hasBrowser } from './deskBrowser.js';
import { PHONE, until, useDesks } from './sitting.js';

const TESTS = 4;
const SMALL_CROP = { widthPx: 240, heightPx: 180 };

/** By how much a crop's middle is away from its pane's, left and right. */
const offMiddle = (page: Page): Promise<number[][]> =>
  page.locator('.pane').evaluateAll((panes) =>
    panes.map((pane) => {
      const [outer, inner] = [pane, pane.querySelector('.at-full')!].map((one) => one.getBoundingClientRect());
      return [
        inner!.x + inner!.width / 2 - outer!.x - outer!.width / 2,
        inner!.y + inner!.height / 2 - outer!.y - outer!.height / 2,
      ];
    }),
  );

/** What is read or looked at and lies behind the buttons, by its words or its place. */
async function behindButtons(page: Page): Promise<readonly string[]> {
  const bar = (await page.locator('.choosing-acts').boundingBox())!;
  const read = await page
    .locator('.side-head, .shot, figcaption, .part-pair, .closely-under > *')
    .evaluateAll((all) =>
      all.map((one) => ({ words: `${one.className} ${one.textContent}`, box: one.getBoundingClientRect() })),
    );
  expect(read.length).toBeGreaterThan(6);
  return read
    .filter(({ box }) => box.y < bar.y + bar.height - 1 && box.y + box.height > bar.y + 1)
    .map((one) => one.words);
}

describe.skipIf(!hasBrowser(`${TESTS} browser tests of looking closely`))('looking closely', () => {
  const { sit } = useDesks();

  it('CS9: Escape leaves 100 % and says nothing', async () => {
    const { page, desk, base } = await sit(EVENING);
    await atRichRider(page, base);
    const said = desk.day.said().length;
    await page.keyboard.press('s');
    await page.locator('.full-view').waitFor();
    await page.keyboard.press('Escape');
    await page.locator('.side-by-side').waitFor();
    expect(await page.locator('.full-view').count()).toBe(0);
    await page.keyboard.press('Escape');
    expect(await page.locator('.side-by-side').count()).toBe(1);
    expect(desk.day.said()).toHaveLength(said);
  });

  it('CS9: a crop smaller than its pane stands in the middle of it', async () => {
    const { page, base } = await sit(EVENING);
    await page.route('**/api/looks*', async (route) => {
      const answer = await route.fetch();
      const { looks } = (await answer.json()) as CloseLooksView;
      const json = { looks: looks.map((look) => ({ ...look, whole: look.whole && { ...look.whole, ...SMALL_CROP } })) };
      await route.fulfill({ response: answer, json });
    });
    await atRichRider(page, base);
    await page.keyboard.press('s');
    await page.locator('.full-view img').nth(1).waitFor();
    for (const [across, down] of await offMiddle(page)) {
      expect(Math.abs(across!)).toBeLessThanOrEqual(1);
      expect(Math.abs(down!)).toBeLessThanOrEqual(1);
    }
  });

  it('CS17: a letter that cannot act says why', async () => {
    const { page, desk, base } = await sit(EVENING);
    await atRichRider(page, base);
    await page.keyboard.press('k');
    await until(page, '.said-line.said', 'is kept');
    const said = desk.day.said().length;
    await page.keyboard.press('k');
    await until(page, '.said-line.done', 'is kept already');
    expect(desk.day.said()).toHaveLength(said);
  });

  it('CS16: on a phone nothing that is read or looked at lies behind the buttons, wherever the page stands', async () => {
    const { page, base } = await sit(EVENING, {}, { viewport: PHONE, hasTouch: true });
    await atRichRider(page, base);
    await page.getByRole('button', { name: 'Keep it' }).tap();
    await until(page, '.said-line.said', 'is kept');
    const height = await page.evaluate<number>('document.documentElement.scrollHeight - innerHeight');
    let looked = 0;
    for (let top = 0; top <= height; top += 120, looked++) {
      await page.evaluate(`scrollTo(0, ${top})`);
      expect(await behindButtons(page), `at ${top}`).toEqual([]);
    }
    expect(looked).toBeGreaterThan(4);
  });
});
