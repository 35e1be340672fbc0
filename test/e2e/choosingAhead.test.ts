/** What comes next is there before it is gone to, in a real browser: in the frame a key's answer comes in, no picture of it is missing. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { atRichRider, EVENING, isThere, riderHere } from './choosingPage.js';
import { hasBrowser } from './deskBrowser.js';
import { useDesks } from './sitting.js';

const TESTS = 2;
/** The hand rests long before every key. */
const RESTS_LIMIT_MS = 180_000;
const LEFT = `document.querySelector('.side-by-side > .side')?.textContent`;
const RIDER = `document.querySelector('.choosing-head .code')?.textContent`;
const FULL = `document.querySelector('.full-view') === null`;

/** Fetched ahead is what the hand's rest leaves time for: here until nothing more is asked for. */
async function atRest(page: Page): Promise<void> {
  const asked = () => page.evaluate<number>(`performance.getEntriesByType('resource').length`);
  await page.evaluate('performance.setResourceTimingBufferSize(5000)');
  for (let [before, now] = [-1, await asked()]; before !== now; [before, now] = [now, await asked()])
    await page.waitForTimeout(500);
}

/** Presses a key and answers which pictures were missing when what it changes had changed. */
async function missingAfter(page: Page, key: string, changes: string): Promise<readonly string[]> {
  await atRest(page);
  await page.evaluate(`globalThis.missing = null; new Promise((resolve) => {
    const before = ${changes};
    const isMissing = (image) => !image.complete || image.naturalWidth === 0;
    const missing = () => [...document.querySelectorAll('main img')].filter(isMissing).map(({ src }) => src);
    const poll = () => requestAnimationFrame(() => (${changes} === before ? poll() : resolve(missing())));
    poll();
  }).then((found) => (globalThis.missing = found)); undefined`);
  await page.keyboard.press(key);
  // Asked again and again from here: the page's policy lets nothing inside it be made of a text.
  await expect.poll(() => page.evaluate('globalThis.missing !== null')).toBe(true);
  return page.evaluate<string[]>('globalThis.missing');
}

describe.skipIf(!hasBrowser(`${TESTS} browser tests of what is fetched ahead`))('what is fetched ahead', () => {
  const { sit } = useDesks();

  it(
    'CS13: no picture is missing when another is taken, one left out, one looked at, or the next rider comes',
    async () => {
      const { page, base } = await sit(EVENING);
      await atRichRider(page, base);
      const met = new Set<string>();
      for (let rider = 0; rider < 2; rider++) {
        met.add(await riderHere(page));
        for (const [key, changes] of [
          ['o', LEFT],
          ['l', LEFT],
          ['k', LEFT],
          ['s', FULL],
          ['s', FULL],
          [' ', RIDER],
        ] as const)
          expect(await missingAfter(page, key, changes), `rider ${rider}, key “${key}”`).toEqual([]);
      }
      expect(met.size).toBe(2);
    },
    RESTS_LIMIT_MS,
  );

  it('CS13: helmet, number and tail come with the whole, and none is asked for by itself', async () => {
    const { page, base } = await sit(EVENING);
    const asked: string[] = [];
    page.on('request', (request) => asked.push(new URL(request.url()).pathname));
    await atRichRider(page, base);
    await isThere(page);
    await atRest(page);
    const parts = await page.locator('.part-shot img').evaluateAll((all) => all.map((one) => one.getAttribute('src')));
    const wholes = await page.locator('.fit-in img').evaluateAll((all) => all.map((one) => one.getAttribute('src')));
    expect(parts.length).toBeGreaterThan(3);
    expect(new Set(parts)).toEqual(new Set(wholes));
    const cropsOf = (frame: string) => new Set(asked.filter((path) => path.startsWith(`${frame}/`)));
    const frames = new Set(asked.flatMap((path) => /^\/pictures\/[0-9a-f]{32}(?=\/)/.exec(path)?.[0] ?? []));
    expect(frames.size).toBeGreaterThan(5);
    for (const frame of frames) expect(cropsOf(frame).size).toBe(1);
  });
});
