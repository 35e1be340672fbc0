/** Paddock and podium on the day's sheet in a real browser: the marked are named, go back to their session, and who is in one is said. */
import { describe, expect, it } from 'vitest';
import type { ApartView } from '../../src/server/apartTypes.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, isSaid, isTakenBack, PHONE, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const TESTS = 5;
const AXE_TIME_LIMIT_MS = 240_000;
const DAY = { frames: 900, riders: 18, apartFrames: 14 };
const ROW = '.apart-row';

describe.skipIf(!hasBrowser(`${TESTS} browser tests of frames kept apart`))('frames kept apart in a browser', () => {
  const { sit } = useDesks();

  it('DK140: by keys two are marked and named, one goes back to its session, and it is taken back', async () => {
    const { page, desk, base } = await sit(DAY);
    const shown = async () => (await (await page.request.get(`${base}/api/apart`)).json()) as ApartView;
    const [first, second] = (await shown()).frames;
    expect(await words(page, `${ROW} h2`)).toContain('14 frames kept apart from the sessions');
    expect(await page.locator(`${ROW} .rider-tile`).count()).toBe(12);
    await tabTo(page, /Paddock/);
    await page.keyboard.press('Space');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Space');
    await page.locator(`${ROW} select`).first().selectOption('podium');
    await page.keyboard.press('n');
    await isSaid(page);
    expect(desk.day.said().at(-1)?.decisions).toEqual([
      { kind: 'apart', file: first!.file, is: 'podium' },
      { kind: 'apart', file: second!.file, is: 'podium' },
    ]);
    await expect.poll(async () => (await shown()).frames.filter(({ isKept }) => isKept).length).toBe(2);
    await page.locator(`${ROW} .rider-tile button`).nth(2).click();
    await page.keyboard.press('s');
    await expect.poll(async () => (await shown()).frames.length).toBe(13);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(async () => (await shown()).frames.length).toBe(14);
  });

  it('DK141: who is in one is said of one place in it, by number or code', async () => {
    const { page, desk } = await sit(DAY);
    await page.locator(`${ROW} .rider-tile button`).first().click();
    const who = page.locator(`${ROW} .of-the-marked select`).last();
    expect(await page.getByText('choose who first').count()).toBe(1);
    const option = (await who.locator('option').nth(1).getAttribute('value'))!;
    await who.selectOption(option);
    await page.keyboard.press('i');
    await isSaid(page);
    const rider = desk.day.state().arrangement.riders.find(({ key }) => key === option)!;
    const said = desk.day.said().at(-1)!.decisions[0]!;
    expect(said.kind).toBe('same-rider');
    if (said.kind !== 'same-rider') return;
    const files = desk.day
      .state()
      .arrangement.exposures.filter(({ frameId, apart }) => frameId === rider.face.frameId || apart);
    expect(files.map(({ mainFile }) => mainFile)).toEqual(expect.arrayContaining(said.points.map(({ file }) => file)));
    expect(said.points).toHaveLength(2);
  });

  it('DK160: what is perhaps of the paddock is answered by one key a walk, taken back, asked again, and left by another', async () => {
    const { page, desk, base } = await sit({ ...DAY, apartFrames: 0, perhapsFrames: 9 });
    const open = async () => ((await (await page.request.get(`${base}/api/apart`)).json()) as ApartView).perhaps;
    const [walk, ...rest] = await open();
    expect(await words(page, '.perhaps-apart h2')).toMatch(/^Perhaps of the paddock \d+ frames? .*in nobody’s set/);
    expect(await page.locator('.perhaps-apart .rider-tile').count()).toBe(walk!.length);
    await page.keyboard.press('a');
    await isSaid(page);
    expect(desk.day.said().at(-1)?.decisions).toEqual(
      walk!.map(({ file }) => ({ kind: 'apart', file, is: 'portrait' })),
    );
    await expect.poll(async () => (await open()).length).toBe(rest.length);
    await until(page, '.apart-row h2', 'kept apart from the sessions');
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(async () => (await open()).length).toBe(rest.length + 1);
    await expect.poll(() => page.locator('.perhaps-apart .rider-tile').count()).toBe(walk!.length);
    await page.keyboard.press('l');
    await isSaid(page);
    expect(desk.day.said().at(-1)?.decisions).toEqual(
      walk!.map(({ file }) => ({ kind: 'apart', file, is: 'session' })),
    );
    await expect.poll(async () => (await open()).length).toBe(rest.length);
  });

  it('FI20: on the finish sheet the named get a finish of their own by one key', async () => {
    const { page, desk, base } = await sit(DAY);
    await page.locator(`${ROW} .rider-tile button`).first().click();
    await page.keyboard.press('n');
    await isSaid(page);
    await goTo(page, base, '/finish');
    await until(page, '.finish-sheet', 'Paddock and podium: 1 frame, as they were taken.');
    await page.keyboard.press('k');
    await until(page, '.finish-sheet', 'Paddock and podium: 1 frame, by a finish of their own.');
    expect(desk.day.said().at(-1)?.decisions).toMatchObject([{ kind: 'finish', of: 'apart' }]);
  });

  it(
    'DK142: on a desk and on a phone, light and dark, axe finds nothing grave and nothing is wider than the screen',
    async () => {
      for (const [viewport, colorScheme] of [
        [WIDE, 'light'],
        [PHONE, 'dark'],
      ] as const) {
        const { page } = await sit({ ...DAY, perhapsFrames: 5 }, {}, { viewport, colorScheme, bypassCSP: true });
        await page.locator('.perhaps-apart').waitFor();
        await page.locator(`${ROW} .rider-tile button`).first().click();
        await page.locator(`${ROW} .of-the-marked`).waitFor();
        await page.locator(ROW).last().scrollIntoViewIfNeeded();
        await isNoWiderThanScreen(page);
        const size = viewport === PHONE ? 'phone' : 'desk';
        await hasRoomToPress(page, `${ROW} :is(.act:not(.off), select, .tiles button)`, size, 3);
        await hasNothingGrave(page);
        if (process.env.PICTURES) await page.screenshot({ path: `${process.env.PICTURES}/${size}.png` });
      }
    },
    AXE_TIME_LIMIT_MS,
  );
});
