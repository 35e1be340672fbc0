/** Finish and crops at the ends of what may be there: nothing kept, one frame, a crowd, only the paddock; each dark on a phone. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { FIRST_FINISH } from '../../src/core/finish/index.js';
import type { Decision } from '../../src/core/log/types.js';
import { newGestureId } from '../../src/host/logbook/index.js';
import type { CropsView, FinishView } from '../../src/server/finish/types.js';
import { hasBrowser, type OpenDesk } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { isSaid, PHONE, until, useDesks, words } from './sitting.js';

const TESTS = 4;
const TIME_LIMIT_MS = 240_000;
const DARK_PHONE = { viewport: PHONE, colorScheme: 'dark', bypassCSP: true } as const;
const SHAPES = { ...FIRST_FINISH, ratios: ['4:5' as const] };

describe.skipIf(!hasBrowser(`${TESTS} browser tests of the finish’s ends`))('finish and crops at their ends', () => {
  const { sit } = useDesks();
  const goTo = async (page: Page, path: string): Promise<void> => {
    await page.goto(new URL(path, page.url()).href);
    await page.waitForSelector('#sheet:not([aria-busy])');
  };
  const isFit = async (page: Page, least = 0): Promise<void> => {
    await isNoWiderThanScreen(page);
    await hasRoomToPress(page, '#sheet .acts button', 'phone', least - 1);
    await hasNothingGrave(page);
  };
  const viewOf = async <View>(page: Page, path: string): Promise<View> =>
    (await (await page.request.get(new URL(path, page.url()).href)).json()) as View;
  const say = (desk: OpenDesk, decisions: readonly Decision[]) => desk.day.decide(newGestureId(), decisions);
  const leaveOutAllBut = (desk: OpenDesk, left: number) => {
    const { arrangement } = desk.day.state();
    const bikes = arrangement.exposures.filter(({ role }) => role === 'bike');
    return say(
      desk,
      bikes.slice(left).map(({ mainFile }) => ({ kind: 'leave-out', file: mainFile })),
    );
  };

  it(
    'nothing kept: both sheets say so and where to go, and Space goes there',
    async () => {
      const { page, desk } = await sit({ frames: 200, riders: 8 }, {}, DARK_PHONE);
      await leaveOutAllBut(desk, 0);
      await goTo(page, '/finish/crops');
      await until(page, '#sheet', 'Expected a frame that is kept, but none is yet.');
      await isNoWiderThanScreen(page);
      await goTo(page, '/finish');
      expect(await words(page, '.headline')).toBe('No frame is kept yet, so there is nothing to finish.');
      await isFit(page);
      await page.keyboard.press('Space');
      await page.waitForURL(/\/choosing/);
    },
    TIME_LIMIT_MS,
  );

  it(
    'one frame kept: it is finished and cropped, nothing leads to a next one, and keys alone do it',
    async () => {
      const { page, desk } = await sit({ frames: 200, riders: 8 }, {}, DARK_PHONE);
      await leaveOutAllBut(desk, 1);
      await goTo(page, '/finish');
      await until(page, '.lead', 'One keeper from one spot');
      await isFit(page, 3);
      expect(await page.getByRole('button', { name: 'Next spot' }).count()).toBe(0);
      await page.locator('.scale-line').first().focus();
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('f');
      await isSaid(page);
      await say(desk, [{ kind: 'finish', of: 'track', finish: SHAPES }]);
      await page.keyboard.press('c');
      await until(page, '.headline', 'Crops of keeper 1 of 1.');
      await isFit(page, 4);
      for (const name of ['Next keeper', 'Keeper before this'])
        expect(await page.getByRole('button', { name }).count()).toBe(0);
      await page.keyboard.press('c');
      await page.keyboard.press('s');
      await until(page, '.crop-list .initials', (await viewOf<CropsView>(page, '/api/finish/crops')).initials);
      await page.keyboard.press('Space');
      await page.waitForURL(/\/gallery/);
    },
    TIME_LIMIT_MS,
  );

  it(
    'four hundred riders: all keepers stand on the scales, and crops go from the first to the next',
    async () => {
      const { page, desk } = await sit({ frames: 7500, riders: 400, untilHour: 18 }, {}, DARK_PHONE);
      await say(desk, [{ kind: 'finish', of: 'track', finish: SHAPES }]);
      await goTo(page, '/finish');
      const { keepers, seen } = await viewOf<FinishView>(page, '/api/finish');
      expect(keepers).toBeGreaterThan(1000);
      expect(seen.own + seen.neighbours + seen.nothing).toBe(keepers);
      await until(page, '.lead', keepers.toLocaleString('en-GB'));
      await isFit(page, 3);
      await goTo(page, '/finish/crops');
      await page.keyboard.press('n');
      await until(page, '.headline', `Crops of keeper 2 of ${keepers.toLocaleString('en-GB')}.`);
      await page.keyboard.press('k');
      await until(page, '.headline', 'Crops of keeper 1 of');
      await isFit(page, 4);
    },
    TIME_LIMIT_MS,
  );

  it(
    'FI20: only frames of the paddock: one of them is shown and finished, and no sheet asks for keepers',
    async () => {
      const { page, desk } = await sit({ frames: 200, riders: 8, apartFrames: 3 }, {}, DARK_PHONE);
      const apart = desk.day.state().arrangement.exposures.filter((exposure) => exposure.apart !== undefined);
      await leaveOutAllBut(desk, 0);
      await say(
        desk,
        apart.flatMap(({ mainFile }): Decision[] => [
          { kind: 'keep', file: mainFile },
          { kind: 'apart', file: mainFile, is: 'paddock' },
        ]),
      );
      await goTo(page, '/finish');
      await until(page, '.lead', 'No rider has a keeper yet.');
      expect(await page.locator('.finished-apart img').count()).toBe(2);
      await isFit(page, 2);
      await page.keyboard.press('k');
      await isSaid(page);
      expect(desk.day.said().at(-1)?.decisions).toMatchObject([{ kind: 'finish', of: 'apart' }]);
      await until(page, '.finished-apart', 'by a finish of their own');
    },
    TIME_LIMIT_MS,
  );
});
