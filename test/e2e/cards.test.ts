/** Clock cards, number cards and the roll call at the desk, in a real browser. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SeenCard } from '../../src/core/measure/cards/index.js';
import { epochMsOf, type WallMs } from '../../src/core/units.js';
import { numberCardToken } from '../../src/host/cards/index.js';
import { meetingSecret } from '../../src/host/gallery/index.js';
import { openPeople } from '../../src/host/meeting/people.js';
import { hasBrowser, type OpenDesk } from './deskBrowser.js';
import { hasNothingGrave, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, isSaid, isTakenBack, PHONE, questionOf, until, useDesks, WIDE, words } from './sitting.js';

const HOUR_MS = 3_600_000;
const at = { x: 0.5, y: 0.5 };
/** Stood before a body whose clock was 102 s ahead. */
const clockCard = (recorded: WallMs): SeenCard => ({
  kind: 'clock-card',
  body: 2,
  shownAt: epochMsOf(recorded - HOUR_MS - 102_000),
  at,
});

describe.skipIf(!hasBrowser('cards in a browser'))('cards and the roll call, in a browser', () => {
  const { sit } = useDesks();
  let folder: string;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-cards-'));
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));
  const said = ({ day }: OpenDesk) => day.said().flatMap(({ decisions }) => decisions);
  const noneGrave = async (page: Page): Promise<void> => {
    await hasNothingGrave(page, 10);
    await isNoWiderThanScreen(page);
  };

  it('PL732: a clock card is a question; one key sets the clock, Ctrl+Z takes it back, and answered it is not asked again', async () => {
    const { page, desk, base } = await sit({ cards: [[3, clockCard]] });
    await goTo(page, base, await questionOf(page, base, 'clock'));
    expect(await words(page, '.question .headline')).toMatch(
      /^Was body .* fast by 1 min 4\d s, as the clock card of \d\d:\d\d says\?$/,
    );
    expect(await words(page, '.reasons-list')).toMatch(
      /The clock card for body 2 told \d\d:\d\d:\d\d; .* known by it to \d\.\d s/,
    );
    await page.keyboard.press('s');
    await isSaid(page);
    const [clock, card] = said(desk).slice(-2);
    expect(clock).toMatchObject({ kind: 'body-clock' });
    expect(Math.abs((clock as { offsetMs: number }).offsetMs + 102_000)).toBeLessThanOrEqual(1100);
    expect(card).toMatchObject({ kind: 'card-answered', is: 'taken' });
    const asked = async () =>
      (
        (await (await page.request.get(`${base}/api/questions`)).json()) as { questions: { id: string }[] }
      ).questions.filter(({ id }) => id.startsWith('clock-card')).length;
    expect(await asked()).toBe(0);
    await page.keyboard.press('Control+z');
    await isTakenBack(page);
    await expect.poll(asked).toBe(1);
  });

  for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
    it(`PL733: a number card is a question; one key ties bike and card, no name goes into the log, ${size}`, async () => {
      const secret = await meetingSecret(folder);
      const people = await openPeople(join(folder, 'people'));
      const card: SeenCard = { kind: 'number-card', number: 17, token: numberCardToken(secret, 17), at };
      const { page, desk, base } = await sit(
        { cards: [[5, () => card]] },
        { folder, people },
        { viewport, bypassCSP: true },
      );
      await goTo(page, base, await questionOf(page, base, 'number-card'));
      expect(await words(page, '.question .headline')).toBe('Is this the bike of card 17?');
      await noneGrave(page);
      await page.keyboard.press('y');
      await isSaid(page);
      const last = said(desk).slice(-2);
      expect(last).toMatchObject([
        { kind: 'rider-is', person: 'card-17' },
        { kind: 'card-answered', is: 'taken' },
      ]);
      expect(JSON.stringify(last)).not.toContain('name');
    });

  it('PL733: on the rider’s own sheet the card held against the bike is asked about too, by key', async () => {
    const secret = await meetingSecret(folder);
    const people = await openPeople(join(folder, 'people'));
    const card: SeenCard = { kind: 'number-card', number: 17, token: numberCardToken(secret, 17), at };
    const { page, desk, base } = await sit({ cards: [[5, () => card]] }, { folder, people }, { bypassCSP: true });
    const { questions } = (await (await page.request.get(`${base}/api/questions`)).json()) as {
      questions: { kind: string; frame?: string }[];
    };
    const { frame } = questions.find(({ kind }) => kind === 'number-card')!;
    const { passes } = desk.day.state().arrangement;
    const pass = passes.find(({ bikes }) => bikes.some(({ frameId }) => frameId === frame))!;
    await goTo(page, base, `/riders/${encodeURIComponent(pass.rider)}`);
    await until(page, '.is-this-one', 'Number card 17');
    await noneGrave(page);
    await page.keyboard.press('c');
    await isSaid(page);
    expect(said(desk).slice(-2)).toMatchObject([
      { kind: 'rider-is', person: 'card-17' },
      { kind: 'card-answered', frame, is: 'taken' },
    ]);
    await expect.poll(() => page.locator('.is-this-one').count()).toBe(0);
  });

  for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
    it(`PL734: the roll of a stretch is called and its head count said by key, ${size}`, async () => {
      const { page, desk, base } = await sit({}, {}, { viewport, bypassCSP: true });
      await goTo(page, base, '/?stretch=09:00-09:20');
      await page.waitForSelector('.roll-call');
      await page.keyboard.press('c');
      await until(page, '.roll-call', 'stood here from 09:00 to 09:20');
      expect(await page.locator('.looks li').count()).toBeGreaterThan(1);
      await noneGrave(page);
      await page.getByLabel('Riders of Novice').fill('28');
      await page.getByLabel('Riders of Novice').blur();
      await page.keyboard.press('h');
      await isSaid(page);
      expect(said(desk).at(-1)).toMatchObject({ kind: 'head-count', group: 'N', riders: 28 });
    });
});
