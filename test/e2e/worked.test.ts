/** What worked in a real browser, on the made-up day: by keys alone, beside another meeting, on paper, at both sizes. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { GestureId, SpotId } from '../../src/core/ids.js';
import { atClock, TIMETABLE } from '../../src/server/testing/madeUpDay.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, PHONE, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const TESTS = 5;
const AXE_TIME_LIMIT_MS = 240_000;
const EVENING = { frames: 1200, riders: 18, untilHour: 18 };

describe.skipIf(!hasBrowser(`${TESTS} browser tests of what worked`))('what worked, in a browser', () => {
  const { sit } = useDesks();
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-worked-'));
  });
  afterAll(() => rm(folder, { recursive: true }));
  /** The file that the page has just kept, as if it were another meeting's. */
  const otherFile = async (): Promise<string> => {
    const kept = JSON.parse(await readFile(join(folder, 'made', 'debrief.json'), 'utf8')) as { meeting: object };
    const path = join(folder, 'other.json');
    await writeFile(
      path,
      JSON.stringify({
        ...kept,
        meeting: { ...kept.meeting, id: 'other', firstDay: '2026-08-01', lastDay: '2026-08-01' },
      }),
    );
    return path;
  };

  it('RE12: from the day line by keys alone to what worked, and a rate opens the pictures that missed', async () => {
    const { page, base } = await sit(EVENING);
    await tabTo(page, /^what worked$/);
    await page.keyboard.press('Enter');
    await page.waitForURL(`${base}/worked`);
    await until(page, 'h1', 'came out sharp and whole');
    expect(await page.locator('.day-line a[aria-current="page"]').textContent()).toBe('what worked');
    await tabTo(page, /^show \d+: missed, 1 Beacon, 1\/500/);
    await page.keyboard.press('Enter');
    const missed = page.locator('.shutters-part .evidence:not([hidden]) img');
    await expect.poll(() => missed.count()).toBeGreaterThan(0);
    await page.keyboard.press('Enter');
    await expect.poll(() => missed.count()).toBe(0);
    await page.locator('h1').click();
    await page.keyboard.press('Space');
    await page.waitForURL(`${base}/`);
  });

  it('RE13: another meeting’s file is chosen by its key, set beside this one, and taken away by a key', async () => {
    const { page, base } = await sit(EVENING, { folder });
    // Listened for in time: the browser has to be told that somebody waits.
    const chooser = page.waitForEvent('filechooser');
    await goTo(page, base, '/worked');
    const path = await otherFile();
    await page.keyboard.press('b');
    await (await chooser).setFiles(path);
    await until(page, '.beside-part', 'by chance alone');
    expect(await words(page, '.beside-part')).toContain(
      'In each row above: Ropewalk Track Days, 2026-08-01; below: Ropewalk Track Days, 2026-09-19.',
    );
    expect(await page.locator('.both-rows circle').count()).toBeGreaterThan(10);
    await page.keyboard.press('a');
    await page.locator('.both-rows').first().waitFor({ state: 'detached' });
  });

  it('RE13: a file dropped on it is read as well, and one that holds no rates is refused in a sentence', async () => {
    const { page, base } = await sit(EVENING, { folder });
    await goTo(page, base, '/worked');
    const data = await page.evaluateHandle(
      `(() => { const data = new DataTransfer(); data.items.add(new File(['{}'], 'holiday.json')); return data; })()`,
    );
    await page.dispatchEvent('.beside-part', 'drop', { dataTransfer: data });
    await until(page, '.beside-part [role="alert"]', 'in holiday.json but');
    expect(await page.locator('.both-rows').count()).toBe(0);
  });

  it('RE12: it goes on one sheet of A4, with every plot and nothing to press', async () => {
    const { page, base, desk } = await sit(EVENING);
    const stays = ['N1', 'I1', 'F1'].map((stretch) => ({ photographer: 0, stretch, spot: 'gannet' as SpotId }));
    await desk.day.decide('a plan' as GestureId, [
      { kind: 'timetable', timetable: TIMETABLE },
      { kind: 'plan-taken', at: atClock(8), stays },
    ]);
    await goTo(page, base, '/worked');
    expect(await page.locator('.planned-table .elsewhere').count()).toBe(3);
    await page.evaluate('window.printed = 0; window.print = () => { window.printed++; }');
    await page.keyboard.press('o');
    expect(await page.evaluate('window.printed')).toBe(1);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
    await page.emulateMedia({ media: 'print' });
    for (const part of ['h1', '.shows-part', '.shutters-part', '.hour-part', '.yield-part', '.planned-part'])
      expect(await page.locator(part).first().isVisible(), part).toBe(true);
    for (const part of ['.day-line', '.foot', '.act', '.worked-sheet .word'])
      expect(await page.locator(part).first().isVisible(), part).toBe(false);
  });

  it(
    'RE12: on a desk and on a phone, light and dark, axe finds nothing grave and nothing is wider than the screen',
    async () => {
      for (const viewport of [WIDE, PHONE])
        for (const colorScheme of ['light', 'dark'] as const) {
          const { page, base } = await sit(EVENING, { folder }, { viewport, colorScheme, bypassCSP: true });
          await goTo(page, base, '/worked');
          await page.locator('.beside-part input').setInputFiles(await otherFile());
          await page.locator('.both-rows').first().waitFor();
          await page.locator('.rate-rows .word').first().click();
          await isNoWiderThanScreen(page);
          await hasRoomToPress(page, '.worked-sheet button', viewport === PHONE ? 'phone' : 'desk', 10);
          await hasNothingGrave(page);
        }
    },
    AXE_TIME_LIMIT_MS,
  );
});
