/** The Plan sheet in a real browser, on the invented circuit: a plan made, pinned, taken and taken back; a late start. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import type { GestureId } from '../../src/core/ids.js';
import type { Decision } from '../../src/core/log/types.js';
import type { Timetable } from '../../src/core/plan/types.js';
import { DAY, TIMETABLE } from '../../src/server/testing/madeUpDay.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, isSaid, isTakenBack, PHONE, until, useDesks, WIDE, words } from './sitting.js';

const EVENING = Date.parse('2026-09-18T18:00:00Z');
/** 10:41 at the circuit. */
const LATE = Date.parse('2026-09-19T09:41:00Z');
const LATE_WALL = Date.parse(`${DAY}T10:41:00Z`);
/** A search ends after ten seconds at the latest; a busy machine takes longer to begin. */
const SEARCH_MS = 60_000;
const TIME_LIMIT_MS = 240_000;

/** A morning of four spots: small enough to be solved at once. */
const MORNING: Timetable = {
  ...TIMETABLE,
  slipRule: 'sliding',
  slots: TIMETABLE.slots.filter(({ start }) => start < Date.parse(`${DAY}T13:00:00Z`)),
};
const BEFORE: readonly Decision[] = [
  { kind: 'timetable', timetable: MORNING },
  { kind: 'circuit', circuit: { ...EBBSTONE, spots: EBBSTONE.spots.slice(0, 4) } },
  { kind: 'permit', has: true },
];

describe.skipIf(!hasBrowser('browser tests of the Plan sheet'))('the plan in a browser', () => {
  const { sit } = useDesks();
  const sitAtPlan = async (now: number, context: Parameters<typeof sit>[2] = {}, more: readonly Decision[] = []) => {
    const sitting = await sit({ frames: 0, riders: 0, hasStands: false }, { now: () => now }, context);
    await sitting.desk.day.decide('019961f0-0000-7000-8000-00000000000a' as GestureId, [...BEFORE, ...more]);
    await goTo(sitting.page, sitting.base, '/plan');
    await sitting.page.waitForSelector('.sun-rows');
    return sitting;
  };
  const isFound = async (page: Page) => {
    await expect.poll(() => words(page, 'h1'), { timeout: SEARCH_MS }).toContain('A plan is found');
  };
  const plansTaken = ({ day }: Awaited<ReturnType<typeof sit>>['desk']) =>
    day.state().log.inForce.flatMap(({ decision }) => (decision.kind === 'plan-taken' ? [decision] : []));

  it(
    'PL1303, PL1306, PL1313: by keyboard alone a plan is made, one session pinned, made again, taken and taken back',
    async () => {
      const { page, desk } = await sitAtPlan(EVENING);
      expect(await words(page, 'h1')).toBe('No plan yet.');
      await page.keyboard.press('m');
      await isFound(page);
      expect(await words(page, '.opening')).toMatch(/None is better|from the best/);
      expect(plansTaken(desk)).toHaveLength(0);

      // To I2, and to the spot below: then it is wished there.
      for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
      for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowUp');
      await page.keyboard.press('ArrowDown');
      await until(page, '.chosen-part h2', '2 Gannet, I2');
      await page.keyboard.press('h');
      await until(page, '.wishes', '2 Gannet in I2');
      await until(page, '.opening', 'have it made again');
      expect(await page.locator('.act.off', { hasText: 'Yes, this is my plan' }).count()).toBe(1);

      await page.keyboard.press('m');
      await expect
        .poll(() => words(page, '.opening'), { timeout: SEARCH_MS })
        .toMatch(/It is yours only when you take it\.(?!.*made again)/);
      await page.keyboard.press('y');
      await until(page, 'h1', 'Your plan');
      await isSaid(page);
      const pinned = plansTaken(desk)[0]!.stays.filter(({ stretch }) => stretch.startsWith('I2 '));
      expect(pinned.map(({ spot }) => spot)).toEqual(['gannet', 'gannet']);
      expect(await page.locator('.day-line .stands .planned').count()).toBeGreaterThan(1);

      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      await until(page, 'h1', 'No plan yet.');
      expect(plansTaken(desk)).toHaveLength(0);
    },
    TIME_LIMIT_MS,
  );

  it(
    'PL1309, PL1310: at 10:41 a session started late: the plan follows, and the rest is made anew',
    async () => {
      const stays = MORNING.slots.map(({ name, start }) => ({
        photographer: 0,
        stretch: name,
        spot: EBBSTONE.spots[start < LATE_WALL ? 1 : 0]!.id,
      }));
      const taken: Decision = { kind: 'plan-taken', at: MORNING.slots[0]!.start, stays };
      const { page, base, desk } = await sitAtPlan(LATE, {}, [taken]);
      expect(await page.locator('.followed').count()).toBe(0);

      await goTo(page, base, '/before');
      await page.waitForSelector('.slips');
      await page.getByLabel('Minutes').fill('10');
      await page.locator('h1').click();
      await page.keyboard.press('i');
      await isSaid(page);
      expect(await words(page, '.slips .rows')).toContain('F2 started 10 minutes late');

      await goTo(page, base, '/plan');
      await until(page, '.followed', '2 Gannet: 09:00 to 11:10, no longer 09:00 to 11:00.');
      // The day still ends at one: what follows is later, and the last session shorter.
      await until(page, '.followed', '1 Beacon: 11:10 to 13:00, no longer 11:00 to 13:00.');
      await page.keyboard.press('m');
      await isFound(page);
      await page.keyboard.press('y');
      await until(page, 'h1', 'Your plan');
      const now = plansTaken(desk).at(-1)!.stays;
      // F2 is out: until its end everything stays as it was.
      const past = now.filter(({ stretch }) => /^([NIF]1|[NIF]2) /.test(stretch));
      expect(past.map(({ spot }) => spot)).toEqual(Array.from({ length: 12 }, () => 'gannet'));
      const rest = now.filter(({ stretch }) => !past.some((stay) => stay.stretch === stretch));
      expect(rest.map(({ stretch }) => stretch)).toContain('F4 second half');
      expect(rest.filter(({ spot }) => spot !== null).length).toBeGreaterThan(4);
      expect(await page.locator('.followed').count()).toBe(0);
    },
    TIME_LIMIT_MS,
  );

  it(
    'PL1306, PL1307: what is wished and cannot be had is named; one wish goes, and there is a plan',
    async () => {
      const { page } = await sitAtPlan(EVENING);
      for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowUp');
      await page.keyboard.press('h');
      await until(page, '.wishes', '1 Beacon in N1');
      await page.keyboard.press('c');
      await until(page, '.wishes', '1 Beacon closed, 09:00 to 09:20');
      await page.keyboard.press('m');
      await expect
        .poll(() => page.locator('.opening .urgent').allTextContents(), { timeout: SEARCH_MS })
        .toEqual([
          'These cannot all be had: Beacon closed from 09:00 to 09:20; and Beacon in N1. Take one of them back.',
        ]);
      await page.getByRole('button', { name: /No longer.*1 Beacon closed/ }).press('Enter');
      await until(page, '.opening .urgent', 'That was before the last words.');
      await page.keyboard.press('m');
      await page.waitForSelector('.searching', { timeout: SEARCH_MS });
      await page.keyboard.press('e');
      await isFound(page);
    },
    TIME_LIMIT_MS,
  );

  it('PL1308, PL1311: what else would cost is told, and a speed that is said stands at the ladder as a word', async () => {
    const stays = MORNING.slots.map(({ name }) => ({ photographer: 0, stretch: name, spot: EBBSTONE.spots[1]!.id }));
    const { page } = await sitAtPlan(EVENING, {}, [{ kind: 'plan-taken', at: MORNING.slots[0]!.start, stays }]);
    await page.waitForSelector('.ladder');
    expect(await page.locator('.ladder .guessed').count()).toBe(3);
    expect(await page.locator('.streaks svg').count()).toBeGreaterThan(2);
    await page.getByLabel('km/h here').fill('88');
    await page.locator('h1').click();
    await page.keyboard.press('k');
    await until(page, '.ladder .initialled', '88 km/h');
    await page.keyboard.press('a');
    await expect
      .poll(() => words(page, '.next-best'), { timeout: SEARCH_MS })
      .toMatch(/over the day it costs|cannot be walked/);
  });

  it('PL1312: on paper it is A4 without what is to be pressed; the run sheet and its calendar can be had', async () => {
    const stays = MORNING.slots.map(({ name }) => ({ photographer: 0, stretch: name, spot: EBBSTONE.spots[1]!.id }));
    const { page, base } = await sitAtPlan(EVENING, {}, [{ kind: 'plan-taken', at: MORNING.slots[0]!.start, stays }]);
    const pdf = await page.request.get(`${base}/api/plan/run-sheet.pdf?date=${DAY}`);
    expect((await pdf.body()).subarray(0, 5).toString()).toBe('%PDF-');
    const calendar = await (await page.request.get(`${base}/api/plan/run-sheet.ics?date=${DAY}`)).text();
    expect(calendar).toContain('BEGIN:VCALENDAR');
    expect(calendar).toContain('Gannet');
    await page.emulateMedia({ media: 'print' });
    expect(await page.locator('.act:visible').count()).toBe(0);
    expect(await page.locator('.run:visible, .sun-rows:visible').count()).toBe(2);
    // 186 mm of A4 between the edges, at 96 to the inch.
    await expect
      .poll(() => page.locator('.sun-drawing svg').getAttribute('width').then(Number))
      .toBeLessThan((186 / 25.4) * 96 - 80);
  });

  for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
    for (const colorScheme of ['light', 'dark'] as const)
      it(`PL1313: axe finds nothing serious and nothing hangs over the side, ${size}, ${colorScheme}`, async () => {
        const { page } = await sitAtPlan(LATE, { viewport, colorScheme, bypassCSP: true });
        await page.waitForSelector('.ladder');
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, '#sheet :is(.act:not(.off), select, summary)', size, 8);
      });
});
