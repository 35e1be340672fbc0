/** From nothing to a run sheet in a real browser: a lap of a phone, two spots and the way between them, a timetable as it was mailed, the plan. */
import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import { gpxOf, recordLaps } from '../../demo/circuit/recordLaps.js';
import { seededRandom } from '../../src/core/numeric/random.js';
import { hasBrowser } from './deskBrowser.js';
import { goTo, isSaid, until, useDesks, words } from './sitting.js';

const EVENING = Date.parse('2026-09-18T18:00:00Z');
const SEARCH_MS = 60_000;
const TIME_LIMIT_MS = 240_000;

const LAP = gpxOf(
  recordLaps(
    EBBSTONE.centreline,
    { laps: 2, speed: 20, from: 0.95, on: 0.05, walksToCar: false },
    { errorM: 3, lasting: 0.95 },
    seededRandom(11),
  ),
);
const MAILED = `08:00 Sign on, 08:30 briefing
9.00 Novice (sighting laps)
9.20 Inters
9:40 - 10:00 Fast
10:15-10:30 coffee
10.30 open pit lane until 12:00`;

describe.skipIf(!hasBrowser('the journey from a new circuit to a run sheet'))('from nothing to a run sheet', () => {
  const { sit } = useDesks();

  it(
    'PL122, PL123, PL229, PL520, PL1301: by keyboard alone, and what is still missing is said on the way',
    async () => {
      const nothing = { frames: 0, riders: 0, hasTimetable: false, hasStands: false };
      const { page, base } = await sit(nothing, { now: () => EVENING });
      const keys = async (...pressed: readonly string[]) => {
        for (const key of pressed) await page.keyboard.press(key);
      };
      const often = (key: string, times: number) => Array.from({ length: times }, () => key);
      const hold = async (thing: string) => {
        await page.locator('.things button', { hasText: thing }).focus();
        await keys('Space');
      };
      await goTo(page, base, '/plan');
      expect(await words(page, 'h1')).toBe('A plan needs the circuit with its spots and a timetable of this day.');

      await goTo(page, base, '/circuit');
      await page.locator('#circuit-file').setInputFiles({
        name: 'lap.gpx',
        mimeType: 'application/gpx+xml',
        buffer: Buffer.from(LAP),
      });
      await until(page, '.lead', 'laps of about');
      await keys('c');
      await until(page, '.headline', 'no spot yet');
      await hold('Paddock');
      await keys(...often('Shift+ArrowLeft', 4));
      await expect.poll(() => page.locator('.faults').count()).toBe(0);
      for (const [name, away] of [
        ['Spot 1', 'Shift+ArrowUp'],
        ['Spot 2', 'Shift+ArrowDown'],
      ] as const) {
        await hold('Paddock');
        await keys('s', ...often(away, 12), 'v');
        await until(page, '.circuit-columns > .part.ask > h2', name);
      }
      await until(page, '.lead', 'No way is drawn from the paddock to any of the 2 spots');
      await hold('1 Spot 1');
      await keys('w', ...often('Shift+ArrowDown', 24), 'a', 'd');
      await until(page, '.circuit-columns > .part.ask > h2', 'The way path');
      await expect.poll(() => page.locator('.lead').count()).toBe(0);

      await goTo(page, base, '/before');
      await page.locator('textarea').first().fill(MAILED);
      await page.locator('h1').click();
      await keys('s');
      await isSaid(page);

      await goTo(page, base, '/plan');
      await page.waitForSelector('.sun-rows');
      expect(await page.locator('.opening .urgent').count()).toBe(0);
      await keys('m');
      await expect
        .poll(() => words(page, 'h1'), { timeout: SEARCH_MS })
        .toMatch(/^A plan is found: \d+ stays at 2 spots\.$/);
      await keys('y');
      await until(page, 'h1', 'Your plan');
      const rows = await page.locator('.run tr').allTextContents();
      expect(rows.join('\n')).toMatch(/walk \d+ min from the van/);
      expect(rows.join('\n')).toMatch(/Spot 1/);
      expect(rows.join('\n')).toMatch(/Spot 2/);
      expect(await page.locator('.run .of').allTextContents()).toContainEqual(expect.stringContaining('O1'));
      const pdf = await page.request.get(`${base}/api/plan/run-sheet.pdf?date=2026-09-19`);
      expect((await pdf.body()).subarray(0, 5).toString()).toBe('%PDF-');
    },
    TIME_LIMIT_MS,
  );
});
