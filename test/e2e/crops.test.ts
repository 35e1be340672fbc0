/** Crops by hand, a frame finished by itself and finishes kept for the next meeting, in a real browser on the made-up day. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FIRST_FINISH } from '../../src/core/finish/index.js';
import { finishesPathOf, openKeptFinishes } from '../../src/host/finish/looks/index.js';
import type { CropsView } from '../../src/server/finish/types.js';
import { hasBrowser, type OpenDesk } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { isSaid, isTakenBack, PHONE, until, useDesks, WIDE } from './sitting.js';

const TESTS = 8;
const AXE_TIME_LIMIT_MS = 240_000;
const EVENING = { frames: 1200, riders: 18, untilHour: 18 };
const WITH_SHAPES = { ...FIRST_FINISH, name: 'low sun', ratios: ['4:5' as const, '1:1' as const] };

describe.skipIf(!hasBrowser(`${TESTS} browser tests of crops`))('crops and kept finishes in a browser', () => {
  const { sit } = useDesks();
  let folder: string;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-kept-'));
  });
  afterEach(() => rm(folder, { recursive: true }));
  const kept = () => ({ finishes: openKeptFinishes(finishesPathOf(folder)) });

  const atFinish = async (page: Page): Promise<void> => {
    await page.goto(new URL('/finish', page.url()).href);
    await page.locator('.kept-finishes .acts').waitFor();
  };
  const lastSaid = (desk: OpenDesk) => desk.day.said().at(-1)?.decisions;
  /** A desk whose meeting goes by a finish with two shapes, at the crops of a keeper that has both by the rule. */
  const atCrops = async (context: Parameters<typeof sit>[2] = {}) => {
    await kept().finishes.keep(WITH_SHAPES);
    const sitting = await sit(EVENING, kept(), context);
    const { page, base } = sitting;
    await atFinish(page);
    await page.keyboard.press('a');
    await page.keyboard.press('f');
    await isSaid(page);
    const cropsOf = async (frame = '') =>
      (await (await page.request.get(`${base}/api/finish/crops${frame && `?frame=${frame}`}`)).json()) as CropsView;
    let view = await cropsOf();
    while (view.crops.some(({ crop }) => crop.kind !== 'crop' || crop.box[0] < 0.02) && view.next)
      view = await cropsOf(view.next);
    expect(view.crops.map(({ crop }) => crop.kind)).toEqual(['crop', 'crop']);
    // In quotes: the made-up day's names are figures alone, and an address has those for numbers.
    await page.goto(`${base}/finish/crops?frame="${view.frameId}"`);
    await page.locator('.crop-frame.chosen').waitFor();
    return { ...sitting, view, cropsNow: () => cropsOf(view.frameId) };
  };

  it('LK20, LK21: a finish is kept by its name, and at the next meeting taken by two keys and taken back', async () => {
    const first = await sit(EVENING, kept());
    const saidAtFirst = first.desk.day.said();
    await atFinish(first.page);
    await first.page.keyboard.press('Shift+ArrowRight');
    await first.page.getByLabel('Its name').fill('dull day');
    await first.page.keyboard.press('Tab');
    await first.page.keyboard.press('w');
    await until(first.page, '.kept-names', 'dull day');
    expect(await kept().finishes.read()).toEqual([{ ...FIRST_FINISH, name: 'dull day', exposureEv: 0.2 }]);
    expect(first.desk.day.said()).toEqual(saidAtFirst);

    const next = await sit(EVENING, kept());
    await atFinish(next.page);
    await next.page.keyboard.press('a');
    expect(await next.page.locator('.scale.chosen .mark-words').textContent()).toBe('+0.20 stops');
    await next.page.keyboard.press('f');
    await isSaid(next.page);
    expect(lastSaid(next.desk)).toMatchObject([{ kind: 'finish', finish: { name: 'dull day', exposureEv: 0.2 } }]);
    await next.page.keyboard.press('Control+z');
    await isTakenBack(next.page);
    expect(next.desk.day.said()).toEqual(saidAtFirst);
  });

  it('LK15, LK19: frames stand where the rule has them; one is moved by arrows, said and taken back', async () => {
    const { page, desk, view, cropsNow } = await atCrops();
    const [first, second] = view.crops.map(({ crop }) => (crop.kind === 'crop' ? crop.box : null));
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('c');
    await page.keyboard.press('w');
    await page.keyboard.press('s');
    await isSaid(page);
    const [said, ...others] = lastSaid(desk)!;
    expect(others).toEqual([]);
    expect(said).toMatchObject({ kind: 'crop-of', file: view.file, ratio: '4:5' });
    const box = said?.kind === 'crop-of' ? said.box : null;
    expect(box![0]).toBeCloseTo(first![0] - 0.005, 6);
    expect(box![2]).toBeCloseTo(first![2], 6);
    await expect
      .poll(async () => (await cropsNow()).crops)
      .toMatchObject([{ crop: { source: 'said', box } }, { crop: { source: 'rule', box: second } }]);
    await until(page, '.crop-list li .initials', view.initials);
    await until(page, '.crop-frame.chosen .initials', view.initials);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(async () => (await cropsNow()).crops).toEqual(view.crops);
    await page.keyboard.press('Control+Shift+z');
    await expect.poll(async () => (await cropsNow()).crops[0]).toMatchObject({ crop: { source: 'said', box } });
  });

  it('LK23: a crop set by hand is given back to the rule by a key, and that is taken back like any word', async () => {
    const { page, desk, view, cropsNow } = await atCrops();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('s');
    await until(page, '.crop-list .chosen .initials', view.initials);
    await page.keyboard.press('r');
    await expect.poll(async () => (await cropsNow()).crops).toEqual(view.crops);
    expect(lastSaid(desk)).toMatchObject([{ kind: 'crop-of', file: view.file, ratio: '4:5', box: null }]);
    await until(page, '.crop-list .chosen', 'by the rule');
    await page.keyboard.press('Control+z');
    await until(page, '.crop-list .chosen .initials', view.initials);
  });

  it('LK19: what was moved is set by going on, and taken back from the next keeper', async () => {
    const { page, desk, view, cropsNow } = await atCrops();
    expect(view.next).not.toBeNull();
    await page.keyboard.press('ArrowLeft');
    await until(page, '.crop-list .chosen', 'moved, set when you go on');
    await page.keyboard.press('n');
    await until(page, '.headline', `Crops of keeper ${view.at + 1} of`);
    await isSaid(page);
    expect(lastSaid(desk)).toMatchObject([{ kind: 'crop-of', file: view.file, ratio: '4:5' }]);
    await page.keyboard.press('n');
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(async () => (await cropsNow()).crops).toEqual(view.crops);
  });

  it('LK24: the picture under the crops has two pixels to each of the pane’s on a screen that shows so many', async () => {
    const { page } = await atCrops({ viewport: { width: 1000, height: 700 }, deviceScaleFactor: 2 });
    const sharp = page.locator('.crop-picture img.sharp');
    const sizes = () =>
      sharp.evaluate((one) => {
        const { naturalWidth, clientWidth } = one as unknown as { naturalWidth: number; clientWidth: number };
        return { naturalWidth, clientWidth };
      });
    await expect.poll(async () => (await sizes()).naturalWidth, { timeout: 20_000 }).toBeGreaterThan(640);
    const { naturalWidth, clientWidth } = await sizes();
    expect(naturalWidth).toBeGreaterThanOrEqual(2 * clientWidth);
  });

  it('LK19: a frame is dragged by hand; where it cuts the bike is told, and let be it is where it was', async () => {
    const { page, desk } = await atCrops();
    await page.keyboard.press('o');
    await until(page, '.crop-list .chosen b', '1 : 1');
    const frame = page.locator('.crop-frame.chosen');
    const before = (await frame.boundingBox())!;
    const picture = (await page.locator('.crop-picture').boundingBox())!;
    await page.mouse.move(before.x + before.width / 2, before.y + before.height / 2);
    await page.mouse.down();
    await page.mouse.move(before.x - picture.width, before.y, { steps: 4 });
    await page.mouse.up();
    const after = (await frame.boundingBox())!;
    expect(after.x).toBeCloseTo(picture.x, 0);
    expect(after.width).toBeCloseTo(before.width, 0);
    for (let i = 0; i < 8; i++) await page.keyboard.press('c');
    await until(page, '.crop-list .chosen', 'It cuts into bike or rider.');
    await page.keyboard.press('l');
    expect((await frame.boundingBox())!.x).toBeCloseTo(before.x, 0);
    expect(lastSaid(desk)).toMatchObject([{ kind: 'finish' }]);
  });

  it('LK18: from its crops a frame goes to a finish by itself, and the others keep theirs', async () => {
    const { page, base, desk, view, cropsNow } = await atCrops();
    await page.keyboard.press('a');
    await until(page, '.finish-sheet .headline', 'One frame by itself.');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('o');
    await isSaid(page);
    expect(lastSaid(desk)).toMatchObject([{ kind: 'finish-of', file: view.file, finish: { exposureEv: 0.2 } }]);
    await expect.poll(async () => (await cropsNow()).isByItself).toBe(true);
    await until(page, '.finish-sheet .lead', 'It has a finish of its own.');
    const other = `${base}/api/finish/crops?frame=${view.next ?? view.before}`;
    expect((await (await page.request.get(other)).json()) as CropsView).toMatchObject({
      isByItself: false,
      finish: { exposureEv: 0 },
    });
    await page.keyboard.press('e');
    await until(page, '.finish-sheet .headline', 'One finish for the meeting.');
  });

  it(
    'on a desk and on a phone, light and dark, axe finds nothing grave and nothing is wider than the screen',
    async () => {
      for (const [viewport, colorScheme] of [
        [WIDE, 'light'],
        [PHONE, 'dark'],
      ] as const) {
        const { page } = await atCrops({ viewport, colorScheme, bypassCSP: true });
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, '.crops-sheet .acts button', viewport === PHONE ? 'phone' : 'desk', 1);
        await hasNothingGrave(page);
        await page.keyboard.press('a');
        await page.locator('.finish-sheet .kept-finishes input').waitFor();
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, '.kept-finishes button', viewport === PHONE ? 'phone' : 'desk', 0);
        await hasNothingGrave(page);
      }
    },
    AXE_TIME_LIMIT_MS,
  );
});
