/** The desk in a real browser, on the made-up day. */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { BodyKey, GestureId } from '../../src/core/ids.js';
import { millisecondsOf } from '../../src/core/units.js';
import { cardUnderWay } from '../../src/server/testing/fakeDay.js';
import type { QuestionsView, RidersView } from '../../src/server/types.js';
import { hasBrowser, openDesk } from './deskBrowser.js';
import { hasNothingGrave } from './screenChecks.js';
import { focused, goTo, PHONE, questionOf, riderWithPasses, tabTo, until, useDesks, WIDE, words } from './sitting.js';

const TESTS = 28;
/** Eight sheets under axe take most of a minute on a busy machine. */
const AXE_TIME_LIMIT_MS = 240_000;

const sheets = (rider: string) => [
  '/',
  '/riders',
  `/riders/${rider}`,
  '/sessions/4',
  '/questions?q=clock-1',
  '/before',
  '/gallery',
  '/?stretch=09:00-09:45',
  `/riders/${rider}?stretch=09:00-09:45`,
];

/** A bike that is nobody's yet, and the questions about riders and passes. */
async function doubtful(page: Page, base: string): Promise<readonly string[]> {
  const riders = (await (await page.request.get(`${base}/api/riders`)).json()) as RidersView;
  const { questions } = (await (await page.request.get(`${base}/api/questions`)).json()) as QuestionsView;
  const about = (['line-up', 'pair', 'whose-pass', 'odd-one-out'] as const).flatMap((kind) => {
    const question = questions.find((one) => one.kind === kind);
    return question ? [`/questions?q=${encodeURIComponent(question.id)}`] : [];
  });
  const [pass] = riders.unplaced;
  return [...(pass ? [`/riders?of=%22${pass.frameId}%22`] : []), ...about];
}

describe.skipIf(!hasBrowser(`${TESTS} browser tests of the desk`))('the desk in a browser', () => {
  const { sit, newContext, closeAfter, closeNow } = useDesks();

  describe('pairing', () => {
    it('DK100: the printed address opens the day, leaves no word behind in the address and asks for nothing it may not have', async () => {
      const desk = closeAfter(await openDesk({ frames: 60, riders: 9 }));
      const page = await (await newContext()).newPage();
      const base = `http://127.0.0.1:${desk.port}`;
      const refused: string[] = [];
      page.on('response', (response) => response.status() >= 400 && refused.push(response.url()));
      for (const address of [desk.url, base]) {
        await page.goto(address);
        await page.waitForSelector('#sheet:not([aria-busy])');
      }
      expect(refused).toEqual([]);
      expect(page.url()).toBe(`${base}/`);
      expect(await words(page, 'h1')).toMatch(/riders are in the pictures/);
      expect(await page.evaluate('document.cookie')).toBe('');
    });

    it('DK101: a browser without the word is told how to come in, and sees nothing', async () => {
      const desk = closeAfter(await openDesk({ frames: 60, riders: 9 }));
      const page = await (await newContext()).newPage();
      for (const word of ['', '#token=another-word']) {
        await page.goto(`http://127.0.0.1:${desk.port}/${word}`);
        expect(await words(page, 'h1')).toBe('This desk is not open here.');
        expect(await words(page, 'main')).toContain('Open the address that was printed');
        expect(await page.locator('.day-line').count()).toBe(0);
      }
    });

    it('DK102: a page from elsewhere can neither read the day nor say anything', async () => {
      const { page, desk, base } = await sit();
      const elsewhere = await page.context().newPage();
      await elsewhere.route('http://elsewhere.example/', (route) =>
        route.fulfill({ contentType: 'text/html', body: '<p>elsewhere' }),
      );
      await elsewhere.goto('http://elsewhere.example/');
      const outcome = await elsewhere.evaluate(async (address) => {
        const read = await fetch(`${address}/api/day`, { credentials: 'include' }).then(
          (response) => `read ${response.status}`,
          () => 'refused',
        );
        const wrote = await fetch(`${address}/api/undo`, {
          method: 'POST',
          credentials: 'include',
          mode: 'no-cors',
        }).then(
          (response) => response.type,
          () => 'refused',
        );
        return { read, wrote };
      }, base);
      expect(outcome.read).toBe('refused');
      expect(desk.day.said()).toHaveLength(1);
      const byAnotherName = await page.request.get(`${base}/api/day`, { headers: { host: 'desk.example' } });
      expect(byAnotherName.status()).toBe(403);
    });
  });

  describe('by keyboard alone', () => {
    it('DK103: Tab reaches before, every session, evening; Enter goes there', async () => {
      const { page, base } = await sit();
      await tabTo(page, /^before$/);
      await page.keyboard.press('Enter');
      await page.waitForURL(`${base}/before`);
      await tabTo(page, /^I2, 10:20 to 10:40/);
      await page.keyboard.press('Enter');
      await page.waitForURL(`${base}/sessions/4`);
      expect(await words(page, 'h1')).toContain('I2:');
      await tabTo(page, /^gallery$/);
      await page.keyboard.press('Enter');
      await page.waitForURL(`${base}/gallery`);
    });

    it('DK104: Space goes on from the day to the questions, through them, and to choosing', async () => {
      const { page, base } = await sit();
      await page.keyboard.press('Space');
      await page.waitForURL(`${base}/questions`);
      await page.waitForSelector('.question');
      const count = Number((await words(page, '.count-of')).split(' of ')[1]);
      expect(count).toBeGreaterThan(2);
      for (let i = 0; i < count; i++) await page.keyboard.press('Space');
      await page.waitForURL(`${base}/choosing**`);
      expect(await page.title()).toContain('Choosing');
    });

    it('DK105: Enter never decides, and neither does Space; the letter does', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, '/questions?q=clock-1');
      await page.locator('button', { hasText: 'Set it right' }).focus();
      await page.keyboard.press('Enter');
      await page.waitForTimeout(150);
      expect(desk.day.said()).toHaveLength(1);
      await page.keyboard.press('Space');
      await page.waitForTimeout(150);
      expect(desk.day.said()).toHaveLength(1);
      await goTo(page, base, '/questions?q=clock-1');
      await page.keyboard.press('s');
      await page.locator('.said-line.said').waitFor();
      expect(desk.day.said().at(-1)?.decisions).toEqual([
        { kind: 'body-clock', body: 'Halden|H2|001245', offsetMs: -3_664_000 },
      ]);
    });

    it('DK106: arrows walk passes, a comma marks a frame, O takes it off the sheet, Ctrl+Z brings it back', async () => {
      const { page, desk, base } = await sit();
      const rider = riderWithPasses(desk, 4);
      const frames = () => desk.day.state().coverage.riders.find((one) => one.rider === rider.key)!.frames;
      const before = frames();
      await goTo(page, base, `/riders/${rider.key}`);
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('ArrowRight');
      expect(await focused(page)).toMatch(/^\d\d:\d\d:\d\d\.\d at /);
      await page.keyboard.press(',');
      expect(await page.locator('.marks-to-press .marked').count()).toBe(1);
      await page.keyboard.press('o');
      await page.locator('.said-line.said').waitFor();
      expect(await words(page, '.said-line')).toMatch(
        /^Said: One frame of .* off .*’s sheet\. Ctrl\+Z takes it back\.$/,
      );
      expect(frames()).toBe(before - 1);
      await until(page, '.wheel-and-words .note', `of ${before - 1} frames`);
      await page.keyboard.press('Control+z');
      await page.locator('.said-line.taken-back').waitFor();
      expect(frames()).toBe(before);
      await until(page, '.wheel-and-words .note', `of ${before} frames`);
    });

    it('DK107: two riders are joined with the keyboard, and the rider count falls by one', async () => {
      const { page, desk, base } = await sit();
      const rider = riderWithPasses(desk, 4);
      const riders = () => desk.day.state().arrangement.riders.length;
      const before = riders();
      await goTo(page, base, `/riders/${rider.key}`);
      await page.keyboard.press('a');
      await page.waitForSelector('.join .tiles');
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('j');
      await page.locator('.said-line.said').waitFor();
      expect(riders()).toBe(before - 1);
      await until(page, '.counts a', `${before - 1} riders`);
      await page.keyboard.press('Control+z');
      await page.locator('.said-line.taken-back').waitFor();
      expect(riders()).toBe(before);
    });

    it('DK108: a line-up is answered by arrows, commas and one letter', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, await questionOf(page, base, 'line-up'));
      await page.keyboard.press(',');
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press(',');
      expect(await page.locator('.candidates .marked').count()).toBe(2);
      await page.keyboard.press('j');
      await page.locator('.said-line.said').waitFor();
      expect(desk.day.said().at(-1)?.decisions[0]).toMatchObject({ kind: 'line-up', chosen: [0, 2], unsure: [] });
    });

    it('DK109: on no sheet does a letter stand under two words', async () => {
      const { page, desk, base } = await sit(
        { hasDoubts: true },
        { actions: { makeProofs: async () => '', makeGallery: async () => '' } },
      );
      const rider = riderWithPasses(desk, 4);
      let looked = 0;
      for (const path of [
        '/',
        `/riders/${rider.key}`,
        '/sessions/4',
        '/questions?q=clock-1',
        '/questions?q=border-1',
        '/before',
        '/gallery',
        '/riders',
        ...(await doubtful(page, base)),
      ]) {
        await goTo(page, base, path);
        await page.keyboard.press('ArrowRight');
        await page.keyboard.press('ArrowRight');
        const letters = await page
          .locator('[aria-keyshortcuts]')
          .evaluateAll((all) => all.map((one) => one.getAttribute('aria-keyshortcuts') ?? ''));
        expect(new Set(letters).size, `${path}: ${letters.join(' ')}`).toBe(letters.length);
        for (const letter of letters) expect('pxut0123456789').not.toContain(letter);
        looked += letters.length;
      }
      expect(looked).toBeGreaterThan(20);
    });
  });

  describe('a stretch of the day', () => {
    it('DK94: dragged out it holds the sheets to itself, through links and a reload, until the whole day is asked for', async () => {
      const { page } = await sit();
      const box = (await page.locator('.hours-and-rows').boundingBox())!;
      const riders = Number(await words(page, '.counts b'));
      await page.mouse.move(box.x + box.width * 0.21, box.y + 50);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width * 0.27, box.y + 50, { steps: 5 });
      await page.mouse.up();
      await until(page, 'h1', ' in ');
      expect(page.url()).toMatch(/\?stretch=\d\d%3A\d\d-\d\d%3A\d\d$/);
      const headline = await words(page, 'h1');
      expect(Number(/: (\d+) riders? in \d+ pass/.exec(headline)?.[1])).toBeLessThan(riders);
      await page.reload();
      await until(page, 'h1', headline);
      await page.locator('.rider-tile a').first().click();
      await page.waitForURL(/\/riders\/.*stretch=/);
      await until(page, '.held-to', 'Shown is');
      await page.goBack();
      await until(page, 'h1', headline);
      await page.keyboard.press('w');
      await until(page, 'h1', 'are in the pictures');
      expect(page.url()).not.toContain('stretch');
    });

    it('DK95: its ends are moved by keys, by session with Shift, and Escape lets it go', async () => {
      const { page } = await sit();
      await tabTo(page, /^stretch shown, from$/);
      await page.keyboard.press('Shift+ArrowRight');
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('Tab');
      expect(await focused(page)).toBe('stretch shown, to');
      for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowLeft');
      await page.waitForURL(/stretch=09%3A05-17%3A45$/);
      await until(page, 'h1', '09:05 to 17:45: ');
      await page.keyboard.press('Escape');
      await until(page, 'h1', 'are in the pictures');
    });

    it('DK96: a click on a session is still a click, and another sheet than day, session and rider goes to the day', async () => {
      const { page, base } = await sit();
      await goTo(page, base, '/questions');
      const box = (await page.locator('.hours-and-rows').boundingBox())!;
      await page.mouse.move(box.x + box.width * 0.12, box.y + 50);
      await page.mouse.down();
      await page.mouse.move(box.x + box.width * 0.3, box.y + 52, { steps: 3 });
      await page.mouse.up();
      await page.waitForURL(/\/\?stretch=/);
      await page.locator('.sessions a').nth(2).click();
      await page.waitForURL(/\/sessions\/\d+\?stretch=/);
    });
  });

  describe('two hands at once', () => {
    it('DK118: a question stays as it was asked while the list changes, and goes on when it is put off', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, '/questions?q=clock-1');
      const asked = await words(page, 'h1');
      await desk.day.decide('0190a000-0000-7000-8000-00000000c10c' as GestureId, [
        { kind: 'body-clock', body: 'Halden|H2|001245' as BodyKey, offsetMs: millisecondsOf(-3_664_000) },
      ]);
      await until(page, '.count-of', 'as it was asked');
      expect(await words(page, 'h1')).toBe(asked);
      await page.keyboard.press('Space');
      await expect.poll(() => words(page, 'h1'), { timeout: 20_000 }).not.toBe(asked);
    });

    it('DK119: not being sure of one in a line-up is said as such', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, await questionOf(page, base, 'line-up'));
      await page.keyboard.press(',');
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('m');
      expect(await page.locator('.candidates .unsure').count()).toBe(1);
      await page.keyboard.press('j');
      await page.locator('.said-line.said').waitFor();
      expect(desk.day.said().at(-1)?.decisions[0]).toMatchObject({ kind: 'line-up', chosen: [0], unsure: [1] });
    });

    it('DK97: words and their taking back arrive in the order they were said, however quick the hand', async () => {
      const { page, desk, base } = await sit();
      const before = desk.day.said().length;
      await goTo(page, base, `/riders/${riderWithPasses(desk, 4).key}`);
      await page.route('**/api/gestures', async (route) => {
        await new Promise((resolve) => setTimeout(resolve, 400));
        await route.continue();
      });
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('o');
      await page.keyboard.press('Control+z');
      await page.locator('.said-line.taken-back').waitFor();
      expect(desk.day.said()).toHaveLength(before);
    });
  });

  describe('words', () => {
    it('DK117: what is read on the screens are our own words', async () => {
      const others =
        /\b(offload|ingest|cull|pick|reject|(?<!red )flag|rate|rating|select|deliver|catalogue|library|collection|preset|recipe|develop)/i;
      const { page, desk, base } = await sit({ hasDoubts: true });
      for (const path of [...sheets(riderWithPasses(desk, 4).key), ...(await doubtful(page, base))]) {
        await goTo(page, base, path);
        const read = await words(page, '.desk');
        expect(read.length).toBeGreaterThan(100);
        expect(others.exec(read)?.[0], path).toBeUndefined();
      }
    });
  });

  describe('what comes in', () => {
    it('DK110: a card’s copies grow on the screen without anybody asking', async () => {
      const { page, desk } = await sit();
      desk.day.setCards([cardUnderWay()]);
      await page.waitForSelector('.card');
      const bar = page.locator('.copy-bar').first();
      expect(await bar.getAttribute('aria-label')).toBe('first disk: 50 % written, 40 % read back and alike');
      desk.day.setCards([
        cardUnderWay({
          filesRead: 412,
          state: 'finished',
          copies: [{ disk: 'first disk', bytesWritten: 3_296_000_000, bytesReadBack: 3_296_000_000 }],
          verdict: { kind: 'keep', sentence: 'A second copy on another disk is missing.', missing: ['a second disk'] },
        }),
      ]);
      await page.locator('.copy-bar[aria-label*="100 % read back"]').waitFor();
      expect(await words(page, '.card-verdict')).toBe('keep');
      expect(await words(page, 'main')).not.toContain('may be formatted');
    });

    it('DK111: riders appear as frames are measured, and the count left falls', async () => {
      const { page, desk } = await sit({ unmeasured: 500 });
      const count = async () => Number(await words(page, '.counts b'));
      const before = await count();
      desk.day.measureSome(400);
      await expect.poll(count, { timeout: 20_000 }).toBeGreaterThan(before);
      expect(await words(page, '.lead')).toContain('Everything shown is already true');
    });

    it('DK112: a desk that stops answering is told as stale, with since when', async () => {
      const { page, desk } = await sit();
      await closeNow(desk);
      await page.locator('[role=alert]').waitFor();
      expect(await words(page, '[role=alert]')).toMatch(
        /^The desk was last heard at \d\d:\d\d; what is shown is from then\.$/,
      );
    });
  });

  describe('started again', () => {
    it('DK120: a desk started again under the same port says that this page belongs to the one before', async () => {
      const { page, desk } = await sit();
      await closeNow(desk);
      await page.locator('[role=alert]').waitFor();
      const again = await openDesk({ frames: 60, riders: 9 }, { port: desk.port, token: 'another-start' });
      closeAfter(again);
      await until(page, '[role=alert]', 'each start prints a new one');
    });
  });

  describe('nothing yet', () => {
    it('DK113: an empty meeting says so in one sentence with one thing to do', async () => {
      const { page, base } = await sit({ frames: 0, untilHour: 0, hasStands: false, hasTimetable: false });
      await goTo(page, base, '/riders');
      expect(await words(page, 'h1')).toBe('No rider is in the pictures yet.');
      await page.locator('a', { hasText: 'Bring in a card' }).click();
      await until(page, 'h1', 'No frames from this meeting yet.');
      await page.keyboard.press('b');
      await page.locator('textarea').fill('card');
      await page.keyboard.press('Tab');
      await page.keyboard.press('b');
      await page.locator('.said-line.refused').waitFor();
      expect(await words(page, '.said-line')).toContain('Expected the whole path of a card’s folder but got “card”');
    });

    it('DK114: a timetable pasted as lines makes groups, and a line that cannot be read is named', async () => {
      const { page, desk, base } = await sit({ hasTimetable: false });
      expect(await words(page, 'main')).toContain('not said');
      await goTo(page, base, '/before');
      await page.locator('#timetable').fill('N1 Novice 09:00-09:20\nI1 Inters 09:40-09:20');
      expect(await words(page, '.wrongs')).toContain(
        'Line 2, “I1 Inters 09:40-09:20”: expected its end after its start',
      );
      await page.locator('#timetable').fill('N1 Novice 09:00-09:20\nI1 Inters 09:20-09:40');
      await page.locator('button', { hasText: 'Say this timetable' }).focus();
      await page.keyboard.press('s');
      await page.locator('.said-line.said').waitFor();
      expect(desk.day.state().timetable?.groups.map((group) => group.name)).toEqual(['Novice', 'Inters']);
      await until(page, '.group-key', 'Novice');
    });

    it('PL280: an organiser’s file becomes lines, what each became stands below, and it is said', async () => {
      const people = {
        all: () => [],
        isErased: () => false,
        write: () => Promise.reject(new Error('no names in a timetable')),
      };
      const { page, desk, base } = await sit({ hasTimetable: false }, { people });
      await goTo(page, base, '/before');
      await page.locator('#timetable-file').setInputFiles('test/fixtures/tables/timetable.xlsx');
      await until(page, '.read-lines', 'N1, Novice, 09:00 to 09:20, sighting laps');
      expect(await words(page, 'main')).toContain('The sheet Saturday was read; Sunday was not.');
      await page.locator('h1').click();
      await page.keyboard.press('s');
      await until(page, '.said-line.said', 'A timetable of 3 sessions');
      expect(desk.day.state().timetable?.pauses).toMatchObject([{ kind: 'lunch' }]);
    });

    it('PL270: a late start at 10:40 is one letter; what follows stands beside it, and it is taken back', async () => {
      const { page, desk, base } = await sit({}, { now: () => Date.parse('2026-09-19T09:40:00Z') });
      await goTo(page, base, '/before');
      await page.locator('h1').click();
      await page.keyboard.press('s');
      await until(page, '.said-line.said', 'A timetable of');
      expect(await page.locator('#slip-slot').inputValue()).toBe('F2');
      await page.keyboard.press('i');
      await until(page, '.slips .rows', 'F2 started 7 minutes late');
      expect(await words(page, '.slips .rows')).toContain('F2 is 7 min shorter: 10:47 to 11:00.');
      expect(desk.day.said().at(-1)?.decisions[0]).toMatchObject({ kind: 'slip', slip: { kind: 'late', slot: 'F2' } });
      await page.locator('.slips .word').click();
      await until(page, '.slips', 'Nothing slipped so far');
    });
  });

  describe('for everybody', () => {
    for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
      for (const colorScheme of ['light', 'dark'] as const)
        it(
          `DK115: axe finds nothing serious on any sheet, ${size}, ${colorScheme}`,
          async () => {
            const { page, desk, base } = await sit(
              { unmeasured: 20, hasDoubts: true },
              { actions: { makeProofs: async () => '' } },
              { viewport, colorScheme, bypassCSP: true },
            );
            desk.day.setCards([cardUnderWay({ troubles: ['H0_0007.JPG came short.'] })]);
            let passed = 0;
            for (const path of [...sheets(riderWithPasses(desk, 4).key), ...(await doubtful(page, base))]) {
              await goTo(page, base, path);
              await page.keyboard.press('ArrowRight');
              passed += await hasNothingGrave(page, 0);
            }
            expect(passed).toBeGreaterThan(80);
          },
          AXE_TIME_LIMIT_MS,
        );

    it('DK116: at a phone’s width nothing hangs over the side, and what is pressed is big enough for a thumb', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true }, {}, { viewport: PHONE });
      for (const path of [...sheets(riderWithPasses(desk, 4).key), ...(await doubtful(page, base))]) {
        await goTo(page, base, path);
        const over = await page.evaluate<number>('document.documentElement.scrollWidth - window.innerWidth');
        expect(over, path).toBeLessThanOrEqual(0);
        const heights = await page
          .locator('.act:not(.off), .end a, .session-names a, .rows a')
          .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height));
        for (const height of heights) expect(height, path).toBeGreaterThanOrEqual(44);
        const widths = await page
          .locator('.sessions a, .session-names a, .end a')
          .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().width).filter((width) => width > 0));
        expect(widths.length, path).toBeGreaterThan(4);
        for (const width of widths) expect(width, path).toBeGreaterThanOrEqual(44);
      }
    });
  });
});
