/** The finish sheet in a real browser, on the made-up day: a mark is moved by keys and by hand, said, and taken back. */
import type { FileChooser } from 'playwright-core';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { Action } from '../../src/server/actions.js';
import type { ProofMark } from '../../src/server/finish/addMark.js';
import type { FinishView } from '../../src/server/finish/types.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { isSaid, isTakenBack, PHONE, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const TESTS = 6;
const AXE_TIME_LIMIT_MS = 240_000;
const EVENING = { frames: 1200, riders: 18, untilHour: 18 };

describe.skipIf(!hasBrowser(`${TESTS} browser tests of the finish`))('the finish in a browser', () => {
  const { sit } = useDesks();

  it('LK18: from the day line a mark is moved by arrows, all pictures follow, it is said and taken back', async () => {
    const { page, base, desk } = await sit(EVENING);
    await tabTo(page, /^finish$/);
    await page.keyboard.press('Enter');
    await page.locator('.finish-sheet').waitFor();
    const markOf = () => page.locator('.scale.chosen .mark-words').textContent();
    const sides = () =>
      page.locator('.tried .side img').evaluateAll((all) => all.map((one) => one.getAttribute('src')));
    const before = await sides();
    expect(await markOf()).toBe('as the middle one');
    await page.keyboard.press('Shift+ArrowRight');
    expect(await markOf()).toBe('+0.20 stops');
    await expect.poll(async () => (await sides())[1]).not.toBe(before[1]);
    expect((await sides())[0]).toBe(before[0]);
    await page.keyboard.press('s');
    expect((await sides())[1]).toBe(before[0]);
    await page.keyboard.press('f');
    await isSaid(page);
    expect(desk.day.said().at(-1)?.decisions).toMatchObject([
      { kind: 'finish', of: 'track', finish: { exposureEv: 0.2 } },
    ]);
    const stands = async () => (await (await page.request.get(`${base}/api/finish`)).json()) as FinishView;
    await expect.poll(async () => (await stands()).isSaid).toBe(true);
    await until(page, '.lead .initials', (await stands()).initials);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(async () => (await stands()).isSaid).toBe(false);
    await page.keyboard.press('Control+y');
    await expect.poll(async () => (await stands()).isSaid).toBe(true);
  });

  it('a mark is moved by hand to where it is put, and a picture of the finish that is tried comes', async () => {
    const { page } = await sit(EVENING);
    await page.goto(new URL('/finish', page.url()).href);
    const line = page.getByRole('slider', { name: 'Shade' });
    const box = (await line.boundingBox())!;
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
    expect(await line.getAttribute('aria-valuetext')).toBe('0.50 stops');
    const tried = page.locator('.tried .side.right img');
    await expect
      .poll(() => tried.evaluate((one) => (one as unknown as { naturalWidth: number }).naturalWidth))
      .toBeGreaterThan(100);
    expect(await words(page, '.lead')).toContain('Nobody has taken this finish yet');
  });

  it('LK18: after a crop was ticked by the space bar the sheet’s letters and Ctrl+Z still act', async () => {
    const { page, desk } = await sit(EVENING);
    await page.goto(new URL('/finish', page.url()).href);
    const box = page.getByRole('checkbox', { name: 'A crop 4 : 5 too' });
    await box.focus();
    await page.keyboard.press(' ');
    expect(await box.isChecked()).toBe(true);
    await page.keyboard.press('c');
    await page.locator('.crops-sheet').waitFor();
    await page.keyboard.press('b');
    await box.waitFor();
    expect(await box.isChecked(), 'what is tried outlasts a look at the crops').toBe(true);
    await page.keyboard.press('f');
    await isSaid(page);
    expect(desk.day.said().at(-1)?.decisions).toMatchObject([{ kind: 'finish', finish: { ratios: ['4:5'] } }]);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(() => box.isChecked()).toBe(false);
  });

  it('DK20: finals are made by a key with the time that is left, halted, and gone on with', async () => {
    const starts: { report: Parameters<Action>[0]; end: (sentence: string) => void; signal: AbortSignal }[] = [];
    const makeFinals: Action = (report, signal) =>
      new Promise((end) => {
        starts.push({ report, end, signal });
        signal.onabort = () => end('48 finals in made/finals, 48 of them new. Stopped before the rest.');
      });
    let ms = Date.parse('2026-09-19T18:00:00Z');
    const { page } = await sit(EVENING, { actions: { makeFinals }, now: () => ms });
    await page.goto(new URL('/finish', page.url()).href);
    const part = (text: string) => until(page, '.finals-part', text);
    await part('Whole pictures without a mark');
    await page.keyboard.press('m');
    await expect.poll(() => starts.length).toBe(1);
    ms += 60_000;
    starts[0]!.report({ done: 48, total: 288, made: 48 });
    await part('48 of 288; about 5 min');
    await page.keyboard.press('h');
    await part('48 finals in made/finals, 48 of them new. Stopped before the rest.');
    expect(starts[0]!.signal.aborted).toBe(true);
    await part('Make the rest of the finals');
    await page.keyboard.press('m');
    await expect.poll(() => starts.length).toBe(2);
    starts[1]!.report({ done: 288, total: 288, made: 240 });
    starts[1]!.end('288 finals in made/finals, 240 of them new.');
    await part('288 finals in made/finals, 240 of them new.');
  });

  it('FI15: the mark of the proofs is laid from a file by a key, seen, refused in a sentence, and put in words again', async () => {
    let png: Uint8Array | null = null;
    const mark: ProofMark = {
      picture: async () => png,
      keep: async (name, bytes) => {
        if (name.endsWith('.txt.png')) throw new Error(`Expected a PNG or SVG in ${name}. Nothing was changed.`);
        png = bytes;
      },
      letGo: async () => {
        png = null;
      },
    };
    const { page } = await sit(EVENING, { mark });
    await page.goto(new URL('/finish', page.url()).href);
    await until(page, '.mark-part', 'In words: “proof” and your credit.');
    const lay = async (name: string, buffer: Buffer) => {
      // On a busy machine the words may stand a moment before the sheet hears its letters.
      let chooser: FileChooser | null = null;
      for (let tries = 0; chooser === null && tries < 5; tries++) {
        const coming = page.waitForEvent('filechooser', { timeout: 5000 }).catch(() => null);
        await page.keyboard.press('l');
        chooser = await coming;
      }
      await chooser!.setFiles({ name, mimeType: 'image/png', buffer });
    };
    await lay('words.txt.png', Buffer.from('words'));
    await until(page, '.said-line', 'Expected a PNG or SVG in words.txt.png. Nothing was changed.');
    expect(png).toBeNull();
    await lay(
      'ring.png',
      await sharp(
        Buffer.from(
          '<svg xmlns="http://www.w3.org/2000/svg" width="300" height="80"><circle cx="40" cy="40" r="30" fill="#fff"/></svg>',
        ),
      )
        .png()
        .toBuffer(),
    );
    const drawn = page.getByRole('img', { name: 'Your own mark' });
    await expect
      .poll(() => drawn.evaluate((one) => (one as unknown as { naturalWidth: number }).naturalWidth))
      .toBe(300);
    await page.keyboard.press('i');
    await until(page, '.mark-part', 'In words: “proof” and your credit.');
    expect(png).toBeNull();
  });

  it(
    'on a desk and on a phone, light and dark, axe finds nothing grave and nothing is wider than the screen',
    async () => {
      for (const [viewport, colorScheme] of [
        [WIDE, 'light'],
        [PHONE, 'dark'],
      ] as const) {
        const makeFinals: Action = () => new Promise(() => undefined);
        const mark: ProofMark = {
          picture: async () => null,
          keep: async () => undefined,
          letGo: async () => undefined,
        };
        const { page } = await sit(
          { ...EVENING, apartFrames: 4 },
          { actions: { makeFinals }, mark },
          { viewport, colorScheme, bypassCSP: true },
        );
        await page.goto(new URL('/finish', page.url()).href);
        await page.locator('.finish-sheet .tried img').first().waitFor();
        await page.locator('.mark-part .acts').waitFor();
        await page.keyboard.press('m');
        await page.locator('.finals-part .bar').waitFor();
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, '.finish-sheet button', viewport === PHONE ? 'phone' : 'desk', 1);
        await hasNothingGrave(page);
      }
    },
    AXE_TIME_LIMIT_MS,
  );
});
