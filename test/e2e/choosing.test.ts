/** Choosing in a real browser, on the made-up day: by keys alone, by touch, and what stands there when there is little. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Decision } from '../../src/core/log/types.js';
import type { ChoosingView, RiderToChooseView } from '../../src/server/choosing/types.js';
import type { CloseLooksView } from '../../src/server/judging/types.js';
import { atRichRider, EVENING, isThere, riderHere } from './choosingPage.js';
import { hasBrowser, type OpenDesk } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { isTakenBack, PHONE, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const TESTS = 11;
const AXE_TIME_LIMIT_MS = 240_000;

const saidOf = (desk: OpenDesk): readonly Decision[] => desk.day.said().flatMap(({ decisions }) => decisions);
const lastSaid = (desk: OpenDesk): readonly Decision[] => desk.day.said().at(-1)?.decisions ?? [];
const kindsOf = (decisions: readonly Decision[]): readonly string[] => decisions.map(({ kind }) => kind);

const nameOnThe = async (page: Page, side: 'left' | 'right'): Promise<string> =>
  /H\d_\d{4}\.JPG/.exec(
    await words(page, `.side-by-side > .side:${side === 'left' ? 'first' : 'last'}-of-type figcaption`),
  )![0];
/** How many pixels of the picture the two that stand beside each other are wide. */
async function widthsCutOut(page: Page, base: string, key: string): Promise<readonly number[]> {
  const view = (await (await page.request.get(`${base}/api/choosing/riders/${key}`)).json()) as RiderToChooseView;
  const frames = view.passes.flatMap((pass) => pass.frames);
  const names = await page.locator('.full-view img').evaluateAll((all) => all.map((one) => one.getAttribute('alt')));
  const bikes = names.map((name) => frames.find((frame) => frame.name === name)!);
  const asked = bikes.map(({ frameId, subject }) => `${frameId}:${subject}`).join();
  const { looks } = (await (await page.request.get(`${base}/api/looks?bikes=${asked}`)).json()) as CloseLooksView;
  return looks.map(({ whole }) => whole!.widthPx);
}
const tiles = (page: Page): Promise<number> => page.locator('.place').count();

describe.skipIf(!hasBrowser(`${TESTS} browser tests of choosing`))('choosing in a browser', () => {
  const { sit } = useDesks();

  it('CS4, CS3: from the day line through a rider to the next one by keys alone', async () => {
    const { page, desk, base } = await sit(EVENING);
    await tabTo(page, /^choosing$/);
    await page.keyboard.press('Enter');
    await isThere(page);
    expect(await page.locator('.day-line a[aria-current="page"]').textContent()).toBe('choosing');
    await atRichRider(page, base);
    const [left, right] = [await nameOnThe(page, 'left'), await nameOnThe(page, 'right')];
    await page.keyboard.press('o');
    await until(page, '.said-line.said', `${right} instead of ${left}`);
    expect(kindsOf(lastSaid(desk))).toEqual(['leave-out', 'keep']);
    expect(await nameOnThe(page, 'left')).toBe(right);
    await page.keyboard.press(',');
    const other = await nameOnThe(page, 'right');
    await page.keyboard.press('a');
    await until(page, '.said-line.said', `${other} is kept`);
    await page.keyboard.press('ArrowRight');
    const gone = await nameOnThe(page, 'left');
    await page.keyboard.press('l');
    await until(page, '.said-line', `${gone} is left out`);
    expect(await nameOnThe(page, 'left')).not.toBe(gone);
    await page.keyboard.press('k');
    await until(page, '.said-line.said', 'is kept');
    const who = await riderHere(page);
    await page.keyboard.press('Space');
    await until(page, '.said-line.said', 'was gone through');
    expect(await riderHere(page)).not.toBe(who);
    expect(kindsOf(lastSaid(desk))).toEqual(['gone-through']);
    expect(saidOf(desk).filter(({ kind }) => kind === 'keep')).toHaveLength(3);
  });

  it('CS8: what is taken back after going on goes back to that rider, then undoes the frame', async () => {
    const { page, desk, base } = await sit(EVENING);
    await atRichRider(page, base);
    const [who, before] = [await riderHere(page), await tiles(page)];
    const first = await nameOnThe(page, 'left');
    await page.keyboard.press('l');
    await expect.poll(() => nameOnThe(page, 'left')).not.toBe(first);
    await until(page, '.said-line.said', 'is left out');
    await page.keyboard.press('n');
    await expect.poll(() => riderHere(page)).not.toBe(who);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(() => riderHere(page)).toBe(who);
    await page.keyboard.press('Control+z');
    await expect.poll(() => tiles(page)).toBe(before);
    await expect.poll(() => nameOnThe(page, 'left')).toBe(first);
    expect(kindsOf(saidOf(desk))).not.toContain('leave-out');
  });

  it('CS5: what is said stands there before the desk has answered, and is undone where the desk refuses it', async () => {
    const { page, base } = await sit(EVENING);
    await atRichRider(page, base);
    let answer: (() => void) | null = null;
    await page.route('**/api/gestures', async (route) => {
      await new Promise<void>((resolve) => {
        answer = resolve;
      });
      await route.fulfill({
        status: 409,
        json: { problem: 'Expected a disk that can be written to. Free some room.' },
      });
    });
    await page.keyboard.press('k');
    await until(page, '.side-head', 'kept');
    expect(await words(page, '.said-line')).toContain('being written down');
    await expect.poll(() => answer).not.toBeNull();
    answer!();
    await until(page, '.said-line', 'Expected a disk that can be written to');
    await until(page, '.side-head', 'proposed');
  });

  it('CS6: a second press that comes at once leaves no second frame out, and skips no rider', async () => {
    const { page, desk, base } = await sit(EVENING);
    await atRichRider(page, base);
    await page.evaluate(
      `for (let i = 0; i < 3; i++) document.dispatchEvent(new KeyboardEvent('keydown', { key: 'l' }))`,
    );
    await until(page, '.said-line.said', 'is left out');
    expect(saidOf(desk).filter(({ kind }) => kind === 'leave-out')).toHaveLength(1);
    await page.evaluate(
      `for (let i = 0; i < 3; i++) document.dispatchEvent(new KeyboardEvent('keydown', { key: 'n' }))`,
    );
    await until(page, '.said-line.said', 'was gone through');
    expect(saidOf(desk).filter(({ kind }) => kind === 'gone-through')).toHaveLength(1);
  });

  it('CS9, CS10: at 100 % a pixel is a pixel, both sides move together, and what was judged is drawn with its numbers', async () => {
    const { page, base } = await sit(EVENING);
    const key = await atRichRider(page, base);
    const drawn = await page.locator('.side-by-side > .side:first-of-type .evidence b').allTextContents();
    const told = await page.locator('.side-by-side > .side:first-of-type .judged > .printed > b').allTextContents();
    expect(drawn.length).toBeGreaterThan(1);
    expect(told).toEqual(drawn);
    await page.keyboard.press('s');
    await page.locator('.full-view img').nth(1).waitFor();
    const widths = page.locator('.full-view img').evaluateAll((all) => all.map((one) => one.clientWidth));
    expect(await widths).toEqual(await widthsCutOut(page, base, key));
    const at = (): Promise<number[]> => page.locator('.pane').evaluateAll((all) => all.map((one) => one.scrollLeft));
    const before = await at();
    await page.keyboard.press('ArrowLeft');
    await expect.poll(async () => (await at()).map((x, i) => before[i]! - x)).toEqual([90, 90]);
    await page.keyboard.press('s');
    await page.keyboard.press('d');
    await expect.poll(() => page.locator('.evidence').count()).toBe(0);
  });

  it('CS12, CS11: twenty minutes bring those who gain most, the rest stands as proposed and is taken back as one', async () => {
    const { page, desk, base } = await sit({ ...EVENING, riders: 60, frames: 3000 });
    await atRichRider(page, base);
    expect(await words(page, '.left-part h2')).toMatch(/^\d+ sets left of \d+$/);
    expect(await words(page, '.left-part')).toMatch(/How long it takes is told after five sets; none so far/);
    await page.locator('.minutes input').fill('1');
    await page.locator('h1').click();
    await page.keyboard.press('i');
    await until(page, '.left-part h2', 'in your 1 min');
    const inMinutes = Number(/^(\d+)/.exec(await words(page, '.left-part h2'))![1]);
    expect(inMinutes).toBeGreaterThan(0);
    await page.keyboard.press('r');
    await until(page, 'h1', 'Every set was gone through.');
    await until(page, '.said-line', 'sets stand as proposed');
    const { riders } = (await (await page.request.get(`${base}/api/choosing`)).json()) as ChoosingView;
    expect(riders.length).toBeGreaterThan(inMinutes);
    expect(riders.every(({ isGone }) => isGone)).toBe(true);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await isThere(page);
    expect(kindsOf(saidOf(desk))).not.toContain('gone-through');
  });

  it('CS15: quotas are said, and the sets follow them', async () => {
    const { page, desk, base } = await sit(EVENING);
    const key = await atRichRider(page, base);
    await page.locator('.quotas summary').click();
    await page.locator('.quotas input').first().fill('4');
    await page.locator('h1').click();
    await page.keyboard.press('q');
    await until(page, '.quotas summary', 'At most 4 of a rider');
    await expect.poll(() => tiles(page)).toBe(4);
    expect(lastSaid(desk)).toEqual([{ kind: 'choose-rules', mostPerRider: 4, mostPerSpot: 4, leastPerRider: 3 }]);
    expect(desk.day.state().keepers.byRider.get(key as never)).toHaveLength(4);
  });

  it('CS14: nobody yet, one frame only, nothing kept, and forty kept', async () => {
    const nobody = await sit({ frames: 0, riders: 0 });
    await nobody.page.goto(`${nobody.base}/choosing`);
    await until(nobody.page, 'h1', 'Nobody is in the pictures yet');
    const morning = await sit({ frames: 300, riders: 90, untilHour: 10 });
    const once = morning.desk.day.state().coverage.riders.find(({ frames }) => frames === 1)!;
    await morning.page.goto(`${morning.base}/choosing?rider=${once.rider}`);
    await until(morning.page, '.side.alone', 'the only frame of this pass');
    expect(await morning.page.getByRole('button', { name: 'Other instead' }).count()).toBe(0);
    expect(await words(morning.page, 'h1')).toMatch(/only one to keep from one pass\.$/);
    const { page, desk, base } = await sit({ ...EVENING, frames: 2400, riders: 12 }, {}, { bypassCSP: true });
    const { arrangement } = desk.day.state();
    const rich = arrangement.riders.find((rider) => rider.passes.length > 20)!;
    await desk.day.decide('forty' as never, [{ kind: 'choose-rules', mostPerRider: 40, mostPerSpot: 40 }]);
    await page.goto(`${base}/choosing?rider=${rich.key}`);
    await isThere(page);
    await expect.poll(() => tiles(page)).toBeGreaterThan(20);
    const files = rich.passes.flatMap((index) =>
      arrangement.passes[index]!.bikes.map(
        ({ frameId }) => arrangement.exposures.find((exposure) => exposure.frameId === frameId)!.mainFile,
      ),
    );
    await desk.day.decide(
      'none' as never,
      files.map((file) => ({ kind: 'leave-out' as const, file })),
    );
    await until(page, 'h1', 'nothing is kept');
    expect(await words(page, '.side-head')).toContain('left out');
    await page.keyboard.press('k');
    await expect.poll(() => tiles(page)).toBe(1);
    await hasNothingGrave(page);
  });

  it('CS2: riders below the least come first and are counted', async () => {
    const { page, base } = await sit({ ...EVENING, riders: 60 });
    const { riders } = (await (await page.request.get(`${base}/api/choosing`)).json()) as ChoosingView;
    expect(riders[0]!.isBelowLeast).toBe(true);
    await page.goto(`${base}/choosing`);
    await isThere(page);
    expect(await riderHere(page)).toBe(riders[0]!.code);
    expect(await words(page, '.left-part')).toMatch(/\d+ riders have fewer than 3 frames to keep; they come first/);
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => riderHere(page)).toBe(riders[1]!.code);
  });

  it('CS4: by touch alone on a phone: another of the burst, out of the set, on to the next', async () => {
    const { page, desk, base } = await sit(EVENING, {}, { viewport: PHONE, hasTouch: true });
    await atRichRider(page, base);
    await page.locator('.frames-of-pass button').last().tap();
    await page.getByRole('button', { name: 'Other instead' }).tap();
    await until(page, '.said-line.said', 'instead of');
    await page.getByRole('button', { name: 'Leave it out' }).tap();
    await until(page, '.said-line.said', 'is left out');
    const who = await riderHere(page);
    await page.getByRole('button', { name: 'Next rider' }).tap();
    await expect.poll(() => riderHere(page)).not.toBe(who);
    expect(kindsOf(saidOf(desk)).slice(-4)).toEqual(['leave-out', 'keep', 'leave-out', 'gone-through']);
  });

  it(
    'CS16: axe finds nothing grave, nothing hangs over the side and all is large enough to press, wide and on a phone, light and dark',
    async () => {
      let looked = 0;
      for (const [size, viewport] of [['wide', WIDE] as const, ['phone', PHONE] as const])
        for (const colorScheme of ['light', 'dark'] as const) {
          const { page, base } = await sit(EVENING, {}, { viewport, colorScheme, bypassCSP: true });
          await atRichRider(page, base);
          for (const key of ['', 's', 's', 'e']) {
            if (key) await page.keyboard.press(key);
            looked += await hasNothingGrave(page);
            await isNoWiderThanScreen(page);
            await hasRoomToPress(page, '.acts button', size, 5);
          }
          await page.close();
        }
      expect(looked).toBeGreaterThan(200);
    },
    AXE_TIME_LIMIT_MS,
  );
});
