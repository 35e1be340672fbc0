/** Riders in a browser: found, told apart, put right; and the questions about them. */
import { describe, expect, it } from 'vitest';
import { hasBrowser, type OpenDesk } from './deskBrowser.js';
import {
  goTo,
  isSaid,
  isTakenBack,
  PHONE,
  questionOf,
  riderWithPasses,
  tabTo,
  until,
  useDesks,
  words,
} from './sitting.js';

const TESTS = 27;

const unplacedPass = (desk: OpenDesk) => {
  const { passes, unsure } = desk.day.state().arrangement;
  return passes[unsure![0]!]!;
};
const unplacedFrame = (desk: OpenDesk): string => unplacedPass(desk).bikes[0]!.frameId;
const unplacedCount = (desk: OpenDesk): number => desk.day.state().arrangement.unsure!.length;

describe.skipIf(!hasBrowser(`${TESTS} browser tests of riders`))('riders in a browser', () => {
  const { sit } = useDesks();

  describe('finding one', () => {
    it('DK139: from the headline to a rider by number, by keyboard alone, and back with what was asked', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true });
      const rider = desk.day.state().arrangement.riders.find((one) => one.number !== null)!;
      await tabTo(page, /^\d+ riders$/);
      await page.keyboard.press('Enter');
      await page.waitForURL(`${base}/riders`);
      await page.waitForSelector('.tiles.large');
      await page.keyboard.press('n');
      await page.keyboard.type(rider.number!);
      await page.keyboard.press('Enter');
      await page.keyboard.press('ArrowRight');
      expect(await words(page, '.tiles.large .chosen .plate')).toContain(rider.number!);
      await page.keyboard.press('Enter');
      await page.waitForURL(/\/riders\/k-/);
      await page.waitForSelector('.rider-sheet');
      await page.goBack();
      await page.waitForSelector('.tiles.large');
      expect(await page.locator('.field input').first().inputValue()).toBe(rider.number);
    });

    it('DK139: with four hundred riders a quick hand comes to the one who was asked for, not to one shown before', async () => {
      const { page, desk, base } = await sit({ riders: 400, frames: 6000, untilHour: 18 });
      const { riders } = desk.day.state().arrangement;
      expect(riders.length).toBeGreaterThan(300);
      const numbers = riders.map((one) => one.number);
      const rider = riders.findLast(
        ({ number }) => number !== null && numbers.filter((one) => one === number).length === 1,
      )!;
      await goTo(page, base, '/riders');
      await page.keyboard.press('n');
      // All in one turn of the browser: no list of hundreds is put in order in between.
      const press = (name: string) =>
        `document.activeElement.dispatchEvent(new KeyboardEvent('keydown', { key: '${name}', bubbles: true })); await null;`;
      await page.evaluate(`(async () => {
        const setValue = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
        setValue.call(document.activeElement, '${rider.number}');
        document.activeElement.dispatchEvent(new Event('input', { bubbles: true }));
        await null;
        ${press('Enter')} ${press('ArrowRight')}
        document.activeElement.click();
      })()`);
      await page.waitForURL(`${base}/riders/${rider.key}**`);
    });

    it('DK140: S on a marked pass shows who it could be, the one who has it first', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true });
      const rider = riderWithPasses(desk, 3);
      await goTo(page, base, `/riders/${rider.key}`);
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('s');
      await page.waitForSelector('.of-one .tiles.large');
      expect(await words(page, '.of-one .tiles.large .fit')).toContain('in this set');
      expect(await page.locator('[aria-keyshortcuts="j"]').count()).toBe(0);
    });

    it('DK153: this one, of a bike that is in a set, leads to that rider’s sheet and asks whether it is the one', async () => {
      const { page, desk, base } = await sit();
      const rider = riderWithPasses(desk, 3);
      const pass = desk.day.state().arrangement.passes[rider.passes[0]!]!;
      await goTo(page, base, `/sessions/${pass.session}`);
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('s');
      await page.waitForURL(/\/riders\/[^?]+\?.*asks=this-one/);
      await until(page, '.is-this-one h2', 'Is this the one?');
      await page.keyboard.press('e');
      await page.waitForSelector('.of-one .tiles.large');
      await page.goBack();
      await page.waitForSelector('.is-this-one');
      await page.keyboard.press('y');
      await expect.poll(() => page.locator('.is-this-one').count()).toBe(0);
      expect(page.url()).not.toContain('asks');
      expect(desk.day.said().flatMap(({ decisions }) => decisions.map(({ kind }) => kind))).not.toContain('same-rider');
    });

    it('DK141: a pass that is not placed is given to a rider by one letter, and taken back', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true });
      const unplaced = () => desk.day.state().arrangement.unsure!.length;
      const before = unplaced();
      await goTo(page, base, `/riders?of=%22${unplacedFrame(desk)}%22`);
      await page.keyboard.press('j');
      await isSaid(page);
      expect(unplaced()).toBe(before - 1);
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      expect(unplaced()).toBe(before);
    });

    it('DK132: alike is a length without a figure, no chance; a chance has both', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true });
      await goTo(page, base, `/riders?of=%22${unplacedFrame(desk)}%22`);
      const fits = page.locator('.of-one .tiles.large .fit-figure');
      const [guessed, ...others] = await fits.allTextContents();
      expect(guessed).toMatch(/guessed.*sure to \d+ of 100/);
      const alike = others.filter((text) => /alike/.test(text));
      expect(alike.length).toBeGreaterThan(3);
      for (const text of alike) expect(text).not.toMatch(/\d|sure/);
      expect(await page.locator('.of-one .alike-mark').count()).toBe(alike.length);
    });

    it('DK132: the likeliest stand there, the others when they are asked for', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true, riders: 90, frames: 2400 });
      await goTo(page, base, `/riders?of=%22${unplacedFrame(desk)}%22`);
      const shown = () => page.locator('.of-one .tiles.large > li').count();
      expect(await shown()).toBe(24);
      await page.locator('button', { hasText: /^show the other/ }).click();
      expect(await shown()).toBe(desk.day.state().arrangement.riders.length);
    });

    it('DK148: by touch alone from a colour to a rider’s day, and from a pass to whose it is', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true }, {}, { viewport: PHONE, hasTouch: true });
      const rider = desk.day.state().arrangement.riders[4]!;
      await goTo(page, base, '/riders');
      await page.locator('.colour', { hasText: rider.mainColours[0]! }).first().tap();
      await page.locator('.tiles.large a', { hasText: rider.code }).first().tap();
      await page.waitForURL(/\/riders\/k-/);
      await page.waitForSelector('.session-columns .pass');
      await goTo(page, base, '/riders');
      const before = unplacedCount(desk);
      await page.locator('.unplaced .rider-tile a').first().tap();
      await page.locator('.of-one .tiles.large button').nth(1).tap();
      await page.locator('.act', { hasText: 'Join the two' }).tap();
      await isSaid(page);
      expect(unplacedCount(desk)).toBe(before - 1);
      await page.locator('.take-back').tap();
      await isTakenBack(page);
      expect(unplacedCount(desk)).toBe(before);
    });
  });

  describe('on their sheet', () => {
    it('DK143: what may be theirs too is joined in one gesture, and taken back', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true });
      const pass = unplacedPass(desk);
      const before = unplacedCount(desk);
      await goTo(page, base, `/riders/${pass.rider}`);
      const perhaps = page.locator('.perhaps .rider-tile');
      const shown = await perhaps.count();
      expect(shown).toBeGreaterThan(0);
      expect(await words(page, '.perhaps .fit')).toContain('55');
      await page.locator('.perhaps button').first().click();
      await isSaid(page);
      expect(unplacedCount(desk)).toBe(before - 1);
      await expect.poll(() => perhaps.count()).toBe(shown - 1);
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      await expect.poll(() => perhaps.count()).toBe(shown);
    });

    it('DK150: passes that are marked one by one leave the sheet together, and come back together', async () => {
      const { page, desk, base } = await sit();
      const rider = riderWithPasses(desk, 5);
      await goTo(page, base, `/riders/${rider.key}`);
      const passes = () => page.locator('.session-columns .pass').count();
      const before = await passes();
      for (const key of ['ArrowRight', 'm', 'ArrowRight', 'ArrowRight', 'm', 'ArrowRight'])
        await page.keyboard.press(key);
      expect(await page.locator('.pass.marked').count()).toBe(2);
      await until(page, '.pass.current .note', '2 marked passes');
      await page.keyboard.press('o');
      await isSaid(page);
      expect(await words(page, '.said-line')).toContain('2 passes off');
      await expect.poll(passes).toBe(before - 2);
      expect(desk.day.said().at(-1)?.decisions[0]?.kind).toBe('same-rider');
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      await expect.poll(passes).toBe(before);
    });

    it('DK146: a number that is said stands signed before the one that was read, until it is taken back', async () => {
      const { page, desk, base } = await sit();
      const rider = desk.day.state().arrangement.riders.find((one) => one.number !== null)!;
      await goTo(page, base, `/riders/${rider.key}`);
      await page.locator('#race-number + .field input').fill('417');
      await page.keyboard.press('Enter');
      await page.keyboard.press('g');
      await isSaid(page);
      await until(page, '.identity', '417');
      expect(await page.locator('.identity .plate-set.initialled').count()).toBe(1);
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      await until(page, '.identity', rider.number!);
    });

    it('DK146: the class is said with the number, for two classes may have one number each', async () => {
      const { page, desk, base } = await sit();
      const rider = riderWithPasses(desk, 3);
      await goTo(page, base, `/riders/${rider.key}`);
      await page.locator('[aria-labelledby="race-number"]').fill('44');
      await page.locator('#number-class').selectOption({ label: 'Inters' });
      await page.locator('[aria-labelledby="race-number"]').press('Enter');
      await page.keyboard.press('g');
      await isSaid(page);
      expect(desk.day.said().at(-1)?.decisions).toMatchObject([{ kind: 'rider-is', number: '44', class: 'I' }]);
      await until(page, '.about', '44 in Inters');
    });

    it('DK159: a sheet is said to be right by one letter, signed, and taken back', async () => {
      const { page, desk, base } = await sit();
      const rider = riderWithPasses(desk, 3);
      await goTo(page, base, `/riders/${rider.key}`);
      await page.keyboard.press('r');
      await isSaid(page);
      const [minted, settled] = desk.day.said().at(-1)!.decisions;
      const frames = rider.passes.flatMap((p) => desk.day.state().arrangement.passes[p]!.bikes).length;
      if (minted?.kind !== 'rider-minted' || settled?.kind !== 'settled') throw new Error('Expected a settled rider.');
      expect(settled).toMatchObject({ rider: minted.rider });
      expect(settled.files).toHaveLength(frames);
      await until(page, '.about', `settled with ${frames} frames`);
      expect(await page.locator('[aria-keyshortcuts="r"]').count()).toBe(0);
      await page.keyboard.press('Control+z');
      await page.locator('[aria-keyshortcuts="r"]').waitFor();
    });

    it('DK137: who instructs is said by one letter, signed, and taken back', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true });
      const rider = desk.day.state().arrangement.riders.find((one) => one.isInstructor !== true)!;
      await goTo(page, base, `/riders/${rider.key}`);
      await page.keyboard.press('i');
      await isSaid(page);
      await until(page, '.about .initialled', 'instructs');
      expect(await page.locator('.act', { hasText: 'Is no instructor' }).count()).toBe(1);
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      await page.locator('.act', { hasText: 'Instructs: not counted' }).waitFor();
    });
  });

  describe('who asks to be shown to nobody', () => {
    it('DK149: a rider is hidden from every gallery by two letters, and nothing is said before the second', async () => {
      const { page, desk, base } = await sit();
      const rider = riderWithPasses(desk, 3);
      const said = desk.day.said().length;
      await goTo(page, base, `/riders/${rider.key}`);
      await page.keyboard.press('h');
      await until(page, '.barring h2', rider.code);
      await page.keyboard.press('b');
      await page.waitForSelector('.session-columns');
      expect(desk.day.said()).toHaveLength(said);
      await page.keyboard.press('h');
      await page.keyboard.press('y');
      await until(page, '.said-line', 'Said for good');
      expect(await page.locator('.take-back').count()).toBe(0);
      const [minted, down] = desk.day.said().at(-1)!.decisions;
      expect(minted?.kind === 'rider-minted' && down?.kind === 'take-down' && minted.rider === down.rider).toBe(true);
    });

    it('DK149: one picture is barred, and its frame says so', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, `/riders/${riderWithPasses(desk, 3).key}`);
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('b');
      await page.waitForSelector('.barring');
      await page.keyboard.press('y');
      await until(page, '.said-line', 'Said for good');
      await until(page, '.pass.current .initialled', 'in no gallery');
    });
  });

  describe('in their session', () => {
    it('DK147: the organiser’s head count is said by one letter and taken back', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, '/sessions/4');
      await page.locator('.ask .field input').fill('34');
      await page.keyboard.press('Enter');
      await page.keyboard.press('h');
      await isSaid(page);
      expect(desk.day.said().at(-1)?.decisions).toMatchObject([{ kind: 'head-count', group: 'I', riders: 34 }]);
      const said = desk.day.said().length;
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      expect(desk.day.said()).toHaveLength(said - 1);
    });

    it('DK135: a pass that is not placed names in pencil whose it is guessed to be', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true });
      const pass = unplacedPass(desk);
      const code = desk.day.state().arrangement.riders.find((rider) => rider.key === pass.rider)!.code;
      await goTo(page, base, `/sessions/${pass.session}`);
      await until(page, '.pass-tile:has(.absent) .pencilled', code);
    });
  });

  describe('asked about', () => {
    it('DK142: whose pass and odd one out are answered by one letter each, in one line-up that says what was shown', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true, frames: 1500 });
      await goTo(page, base, await questionOf(page, base, 'whose-pass'));
      await page.keyboard.press('j');
      await isSaid(page);
      expect(desk.day.said().at(-1)?.decisions).toMatchObject([{ kind: 'line-up', chosen: [0] }]);
      await page.keyboard.press('Control+z');
      await isTakenBack(page);
      await goTo(page, base, await questionOf(page, base, 'odd-one-out'));
      await page.keyboard.press(',');
      await page.keyboard.press('o');
      await isSaid(page);
      const [lineUp, ...apart] = desk.day.said().at(-1)!.decisions;
      expect(lineUp).toMatchObject({ kind: 'line-up', unsure: [] });
      expect(lineUp?.kind === 'line-up' && lineUp.chosen.includes(0)).toBe(false);
      expect(apart.every((one) => one.kind === 'different-riders')).toBe(true);
    });

    for (const kind of ['line-up', 'pair', 'whose-pass', 'odd-one-out'] as const)
      it(`DK157: nobody can tell: one letter says so of a ${kind}, and it is not asked again`, async () => {
        const { page, desk, base } = await sit({ hasDoubts: kind !== 'pair' && kind !== 'line-up', frames: 1500 });
        const path = await questionOf(page, base, kind);
        await goTo(page, base, path);
        const asked = await words(page, 'h1');
        await page.keyboard.press('c');
        await isSaid(page);
        const [lineUp, ...more] = desk.day.said().at(-1)!.decisions;
        expect(more).toHaveLength(0);
        if (lineUp?.kind !== 'line-up') throw new Error(`Expected a line-up but ${lineUp?.kind} was said.`);
        expect(lineUp).toMatchObject({ chosen: [], unsure: lineUp.shown.map((_, i) => i) });
        await goTo(page, base, '/questions');
        expect(await page.locator('.open-questions').textContent()).not.toContain(asked);
      });

    it('DK145: the next question stands there while the answer is still on its way; refused, its question comes back', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, await questionOf(page, base, 'line-up'));
      const asked = await words(page, 'h1');
      const said = desk.day.said().length;
      let letGo = (): void => undefined;
      const held = new Promise<void>((resolve) => {
        letGo = resolve;
      });
      await page.route('**/api/gestures', async (route) => {
        await held;
        await route.fulfill({ status: 409, json: { problem: 'The log could not be written.' } });
      });
      await page.keyboard.press('n');
      await expect.poll(() => words(page, 'h1')).not.toBe(asked);
      expect(await words(page, '.said-line')).toContain('being written down');
      letGo();
      await until(page, '.said-line', 'The log could not be written.');
      await expect.poll(() => words(page, 'h1')).toBe(asked);
      expect(desk.day.said()).toHaveLength(said);
    });

    it('DK145: an answer taken back makes its question stand there again', async () => {
      const { page, base } = await sit();
      await goTo(page, base, '/questions?q=clock-1');
      const asked = await words(page, 'h1');
      await page.keyboard.press('s');
      await isSaid(page);
      expect(await words(page, 'h1')).not.toBe(asked);
      await page.keyboard.press('Control+z');
      await expect.poll(() => words(page, 'h1')).toBe(asked);
    });

    it('DK156: what a key took back is said again by a key, and its question goes again', async () => {
      const { page, desk, base } = await sit();
      await goTo(page, base, '/questions?q=clock-1');
      const asked = await words(page, 'h1');
      await page.keyboard.press('s');
      await isSaid(page);
      const said = desk.day.said().length;
      await page.keyboard.press('Control+z');
      await expect.poll(() => words(page, 'h1')).toBe(asked);
      await page.keyboard.press('Control+Shift+Z');
      await until(page, '.said-line', 'It stands again');
      expect(desk.day.said()).toHaveLength(said);
      await expect.poll(() => words(page, 'h1')).not.toBe(asked);
    });

    it('DK155: on a fresh desk no key takes back what was said before; the word beside it does', async () => {
      const { page, desk } = await sit();
      const before = desk.day.said().length;
      await page.keyboard.press('Control+z');
      await page.locator('.said-line.asks').waitFor();
      expect(desk.day.said()).toHaveLength(before);
      await page.locator('.take-back').click();
      await isTakenBack(page);
      expect(desk.day.said()).toHaveLength(before - 1);
      await page.keyboard.press('Control+y');
      await until(page, '.said-line', 'It stands again');
      expect(desk.day.said()).toHaveLength(before);
    });

    it('DK145: a key pressed twice at once answers one question', async () => {
      const { page, desk, base } = await sit({ hasDoubts: true, frames: 1500 });
      await goTo(page, base, await questionOf(page, base, 'odd-one-out'));
      const said = desk.day.said().length;
      const press = "document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'a', bubbles: true }));";
      await page.evaluate(`${press} ${press}`);
      await isSaid(page);
      expect(desk.day.said()).toHaveLength(said + 1);
    });
  });
});
