/** The day at lunch in a real browser: on the made-up day, and on the invented meeting with its morning's cards. */
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { layOutDemoMeeting } from '../../src/cli/demoMeeting.js';
import type { GestureId, SpotId } from '../../src/core/ids.js';
import type { Decision } from '../../src/core/log/types.js';
import { epochOfWall } from '../../src/core/numeric/wallTime.js';
import { readCircuit } from '../../src/core/plan/circuit/file/readCircuit.js';
import { wallMsOf } from '../../src/core/units.js';
import { newGestureId } from '../../src/host/logbook/index.js';
import { createDesk } from '../../src/server/index.js';
import type { LunchSheetView } from '../../src/server/lunch/types.js';
import { buildWeb, WEB_FOLDER } from './builtScreens.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, isSaid, isTakenBack, PHONE, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const CIRCUIT = fileURLToPath(new URL('../../demo/circuit/ebbstone.geojson', import.meta.url));
const sayCircuit = async (): Promise<Decision> => {
  const { circuit } = readCircuit(await readFile(CIRCUIT, 'utf8'));
  return { kind: 'circuit', circuit: circuit! };
};
const planAt = (spot: string, stretches: readonly string[]): Decision => ({
  kind: 'plan-taken',
  at: wallMsOf(0),
  stays: stretches.map((stretch) => ({ photographer: 0, stretch, spot: spot as SpotId })),
});
const AFTERNOON = ['N5', 'I5', 'F5', 'N6', 'I6', 'F6', 'N7', 'I7', 'F7'];
/** The search ends by itself within ten seconds; a busy machine may take twice as long. */
const FOUND_MS = 40_000;

const findsAfternoon = async (page: Page): Promise<void> => {
  await page.keyboard.press('f');
  await page.waitForSelector('.both-plans', { timeout: FOUND_MS });
};

describe.skipIf(!hasBrowser('the day at lunch in a browser'))('the day at lunch, in a browser', () => {
  const { sit, newContext, closeAfter } = useDesks();
  const sitAtLunch = async (context: Parameters<typeof sit>[2] = {}) => {
    const sat = await sit({ frames: 900, riders: 36 }, {}, context);
    await sat.desk.day.decide('circuit' as GestureId, [await sayCircuit()]);
    await sat.desk.day.decide('plan' as GestureId, [planAt('beacon', AFTERNOON)]);
    return sat;
  };

  it('PL1237: by keyboard alone: from the day line to lunch, a better afternoon, taken, taken back, and mine kept', async () => {
    const { page, base, desk } = await sitAtLunch();
    await goTo(page, base, '/');
    await tabTo(page, /^lunch$/);
    await page.keyboard.press('Enter');
    await page.waitForURL(`${base}/lunch`);
    await until(page, 'h1', 'riders are in the pictures');
    await findsAfternoon(page);
    expect(await words(page, '.both-plans thead')).toContain('yours');
    expect(await page.locator('.both-plans .difference').allTextContents()).toContain(' moved');
    const saidBefore = desk.day.said().length;

    await page.keyboard.press('Enter');
    expect(desk.day.said()).toHaveLength(saidBefore);
    await page.keyboard.press('g');
    await isSaid(page);
    expect(desk.day.said().at(-1)?.decisions[0]?.kind).toBe('plan-taken');
    await until(page, '.afternoon-part .taken', 'You go by this plan');

    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    expect(desk.day.said()).toHaveLength(saidBefore);
    await until(page, '.afternoon-part > h2', 'nothing is taken yet');

    await page.keyboard.press('k');
    await until(page, '.said-line', 'Kept: the plan as it was.');
    await page.locator('.both-plans').waitFor({ state: 'detached' });
    await page.keyboard.press('Space');
    await page.waitForURL(/\/questions/);
  });

  it('PL1238: on paper stand the sentence, both afternoons, coverage and whom to look for, and nothing to press', async () => {
    const { page, base } = await sitAtLunch();
    await goTo(page, base, '/lunch');
    await findsAfternoon(page);
    await page.evaluate('window.printed = 0; window.print = () => { window.printed++; }');
    await page.keyboard.press('o');
    expect(await page.evaluate('window.printed')).toBe(1);
    await page.emulateMedia({ media: 'print' });
    for (const part of ['h1', '.both-plans', '.coverage-part', '.watch-part'])
      expect(await page.locator(part).first().isVisible(), part).toBe(true);
    for (const part of ['.day-line', '.foot', '.act'])
      expect(await page.locator(part).first().isVisible(), part).toBe(false);
  });

  for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
    for (const colorScheme of ['light', 'dark'] as const)
      it(`PL1238: axe finds nothing serious and nothing hangs over the side, ${size}, ${colorScheme}`, async () => {
        const { page, base } = await sitAtLunch({ viewport, colorScheme, bypassCSP: true });
        await goTo(page, base, '/lunch');
        await page.waitForSelector('.kit-part:not([aria-busy="true"])');
        await findsAfternoon(page);
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, '.lunch-sheet .act:not(.off), .lunch-sheet .word, .lunch-sheet summary', size, 5);
      }, 120_000);

  it('PL1239: the invented meeting: the morning’s cards come in, and lunch tells who is owed what, what the kit did, and a better afternoon', async () => {
    await buildWeb();
    const folder = await mkdtemp(join(tmpdir(), 'tyrewall-lunch-'));
    const { whole, cards, truth } = await layOutDemoMeeting(folder);
    closeAfter({ close: () => whole.close().then(() => rm(folder, { recursive: true, force: true })) });
    const [, , lastOfMorning] = truth.timetable.slots;
    const atLunch = epochOfWall(wallMsOf(lastOfMorning!.end + 20 * 60_000), truth.meeting.zone);
    const desk = createDesk(whole.day, {
      token: 'blue-kerb-seven',
      webFolder: WEB_FOLDER,
      now: () => atLunch,
      people: whole.meeting.people,
    });
    const listening = closeAfter(await desk.listen());
    const base = `http://127.0.0.1:${listening.port}`;
    await whole.day.decide(newGestureId(), [planAt('beacon', ['N2', 'I2'])]);
    await whole.day.bringIn(cards.filter(({ name }) => name.startsWith('morning')).map(({ path }) => path));
    await whole.day.settled();

    const page = await (await newContext()).newPage();
    await page.goto(listening.url);
    await page.waitForSelector('#sheet:not([aria-busy])');
    await goTo(page, base, '/lunch');
    expect(await words(page, 'h1')).toMatch(/^Lunch\. \d+ riders are in the pictures/);
    const view = (await (await page.request.get(`${base}/api/lunch`)).json()) as LunchSheetView;
    for (const { group, riders } of view.groups.filter((one) => one.group !== null)) {
      const rode = truth.riders.filter(({ groups }) => groups[0] === group?.key).length;
      expect(rode).toBeGreaterThan(5);
      expect(Math.abs(riders - rode), group?.key).toBeLessThanOrEqual(4);
    }
    expect(await page.locator('.watched').count()).toBe(view.watch.length);
    await page.waitForSelector('.sharp-part tbody tr');
    await expect.poll(() => words(page, '.kit-part .rows'), { timeout: 60_000 }).not.toContain('being looked for');

    await findsAfternoon(page);
    const rows = await page.locator('.both-plans tbody th').allTextContents();
    expect(rows.join(' ')).toMatch(/N2.*I2/);
    await page.keyboard.press('g');
    await isSaid(page);
    await until(page, '.afternoon-part .taken', 'You go by this plan');
    const taken = () => whole.day.state().log.inForce.filter(({ decision }) => decision.kind === 'plan-taken').length;
    expect(taken()).toBe(2);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    expect(taken()).toBe(1);
    await until(page, '.afternoon-part > h2', 'nothing is taken yet');
  }, 400_000);
});
