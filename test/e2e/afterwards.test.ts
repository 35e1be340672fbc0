/** Takings, places and law at the desk in a real browser: by keys alone, at both sizes, in light and dark. */
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { GestureId } from '../../src/core/ids.js';
import { DAY } from '../../src/server/testing/madeUpDay.js';
import { deskWithPlaces, type WithPlaces } from '../builders/deskWithPlaces.js';
import { writeSoldDay } from '../builders/soldDay.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, isSaid, isTakenBack, PHONE, riderWithPasses, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const TESTS = 4;
const AXE_TIME_LIMIT_MS = 240_000;

describe.skipIf(!hasBrowser(`${TESTS} browser tests of takings, places and law`))('afterwards, in a browser', () => {
  const { sit } = useDesks();
  let made: WithPlaces;
  beforeEach(async () => {
    made = await deskWithPlaces();
  });
  afterEach(() => made.remove());
  const sitWithPlaces = async (context: Parameters<typeof sit>[2] = {}) => {
    const sitting = await sit({}, { folder: made.folder, handover: made.work }, context);
    await made.lay(sitting.desk.day, 60);
    return sitting;
  };
  type Desk = Awaited<ReturnType<typeof sitWithPlaces>>['desk'];
  const holdTwo = async ({ day }: Desk) => {
    const frames = day.state().arrangement.exposures.filter(({ role }) => role === 'bike');
    const decisions = frames.slice(0, 2).map(({ mainFile }) => ({ kind: 'held', file: mainFile }) as const);
    await day.decide('a hold' as GestureId, decisions);
  };

  it('DK180: from the day line to the takings by keys alone; unsold it leads to the orders, sold it has sums, charts and a file', async () => {
    const { page, base, desk } = await sitWithPlaces();
    await tabTo(page, /^takings$/);
    await page.keyboard.press('Enter');
    await until(page, 'h1', 'Nothing is sold yet');
    await page.keyboard.press('o');
    await page.waitForURL(`${base}/orders`);
    await writeSoldDay(made.folder, desk.day.state(), 9);
    await goTo(page, base, '/takings');
    await until(page, 'h1', '€217.50 is left of 9 orders.');
    await page.locator('.takings-chart svg').nth(3).waitFor();
    expect(await words(page, '.takings-chart li')).toBe(
      'Ropewalk Track Days, 2026-09-19: €261.00, of 9 orders, €45.00 went back',
    );
    const download = page.waitForEvent('download');
    await page.keyboard.press('a');
    expect((await download).suggestedFilename()).toBe(`takings-${DAY}.csv`);
  });

  it('DK181: a place is run dry and put up to by two letters, and what stands there is said', async () => {
    const { page, base } = await sitWithPlaces();
    await goTo(page, base, '/gallery');
    await until(page, '.places', 'No whole gallery stands there yet.');
    await page.keyboard.press('d');
    await until(page, '.dry-run', 'Riders find a gallery after about');
    expect(await readdir(made.stick)).toEqual([]);
    await page.keyboard.press('b');
    await until(page, '.places', 'files stands there since');
    expect(await readdir(join(made.stick, DAY))).toContain('index.html');
  });

  it('DK182, DK183, DK184: a rider is a minor, of age again by the key, then hidden for good; a held frame is released', async () => {
    const { page, base, desk } = await sitWithPlaces();
    const { key } = riderWithPasses(desk, 3);
    await holdTwo(desk);
    await goTo(page, base, `/riders/${key}`);
    await page.keyboard.press('v');
    await until(page, '.law-part', 'frames');
    await page.keyboard.press('m');
    await until(page, '.law-part .initialled', 'a minor, no parent agreed');
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await page.locator('.law-part .initialled').waitFor({ state: 'detached' });
    await page.keyboard.press('b');
    await page.locator('.session-columns').waitFor();
    await page.keyboard.press('h');
    await until(page, '.barring', 'It leaves at once');
    await page.keyboard.press('y');
    await until(page, '.said-line', 'Said for good');
    await goTo(page, base, '/gallery');
    await until(page, '.pending-part', 'The proof:');
    await until(page, '.held-part h2', 'Held back: 2');
    await page.keyboard.press('l');
    await page.keyboard.press('r');
    await isSaid(page);
    await until(page, '.held-part h2', 'Held back: 1');
  });

  it(
    'DK180 to DK184: on a desk and on a phone, light and dark, axe finds nothing grave and nothing is wider than the screen',
    async () => {
      for (const viewport of [WIDE, PHONE])
        for (const colorScheme of ['light', 'dark'] as const) {
          const { page, base, desk } = await sitWithPlaces({ viewport, colorScheme, bypassCSP: true });
          const size = viewport === PHONE ? 'phone' : 'desk';
          await writeSoldDay(made.folder, desk.day.state(), 9);
          await holdTwo(desk);
          const look = async (buttons: string, more: number) => {
            await isNoWiderThanScreen(page);
            await hasRoomToPress(page, buttons, size, more);
            await hasNothingGrave(page);
          };
          await goTo(page, base, '/takings');
          await page.locator('.takings-chart svg').nth(3).waitFor();
          await look('.takings-sheet button', 0);
          await goTo(page, base, '/gallery');
          // The sheet stands before its places were asked.
          await page.locator('.places-part').waitFor();
          await page.keyboard.press('d');
          await page.locator('.dry-run').waitFor();
          await look(':is(.places-part, .held-part) button', 4);
          await goTo(page, base, `/riders/${riderWithPasses(desk, 3).key}`);
          await page.keyboard.press('v');
          await page.locator('.law-part .sub').waitFor();
          await look('.law-part button', 3);
        }
    },
    AXE_TIME_LIMIT_MS,
  );
});
