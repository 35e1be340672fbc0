/** The day's way into the pocket and back, at the desk and on the phone's page, in a real browser. */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import sharp from 'sharp';
import { afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { GestureId } from '../../src/core/ids.js';
import { codeOfTaps } from '../../src/core/plan/pocket/index.js';
import { readQr } from '../../src/host/cards/readQr.js';
import { openPeople } from '../../src/host/meeting/people.js';
import { openOffice } from '../../src/host/office/officeFile.js';
import { pocketFolder, zlibSqueezer } from '../../src/host/pocket/index.js';
import { atClock, SPOTS } from '../../src/server/testing/madeUpDay.js';
import { buildPocketPage } from '../builders/builtPocketPage.js';
import { filmOfCode } from '../builders/filmOfCode.js';
import { hasBrowser, type OpenDesk, openBrowser, openDesk } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, PHONE, until, useDesks, WIDE, words } from './sitting.js';

const ADDRESS = 'https://pictures.example/pocket/';
/** 14:10 at the made-up circuit. */
const AT_THE_TRACK = Date.parse('2026-09-19T13:10:00Z');

async function planAfternoon({ day }: OpenDesk): Promise<void> {
  await day.decide('019961f0-0000-7000-8000-000000000009' as GestureId, [
    { kind: 'stood-at', spot: SPOTS[2]!.id, from: atClock(14), to: atClock(15) },
    { kind: 'stood-at', spot: SPOTS[3]!.id, from: atClock(15, 4), to: atClock(16) },
  ]);
}

const taps = () =>
  codeOfTaps(
    {
      dayCheck: '0badcafe',
      phone: '1234abcd',
      eastMin: 60,
      taps: [
        { seq: 1, at: atClock(13, 5), isUndone: false, kind: 'late', slot: 'N5', byMin: 7, plannedAt: atClock(13) },
        { seq: 2, at: atClock(13, 10), isUndone: false, kind: 'got', number: '27' },
      ],
    },
    zlibSqueezer,
  );

async function codeOn(page: Page, selector: string): Promise<string> {
  const { data, info } = await sharp(await page.locator(selector).screenshot())
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return (await readQr({ data, width: info.width, height: info.height }))[0]?.text ?? 'nothing was read';
}

describe.skipIf(!hasBrowser('the phone’s day in a browser'))('the way into the pocket and back, in a browser', () => {
  const { sit, newContext, closeAfter } = useDesks();
  let folder: string;
  beforeAll(buildPocketPage, 60_000);
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-phone-'));
  });
  afterEach(() => rm(folder, { recursive: true, force: true }));
  const atHand = async () => ({
    office: openOffice(join(folder, 'office.json')),
    people: await openPeople(join(folder, 'people')),
    folder,
  });

  it('PL730, PL731: the code on the laptop opens the day on the phone, and what is tapped there comes back as a file', async () => {
    const { page, desk, base } = await sit({}, await atHand());
    await planAfternoon(desk);
    await goTo(page, base, '/before');
    await page.getByLabel('Where the pocket page is hosted').fill(ADDRESS);
    await page.keyboard.press('Enter');
    await until(page, '.address', ADDRESS);
    await page.locator('h1').click();
    await page.keyboard.press('c');
    await page.waitForSelector('.carried .qr');
    const text = await codeOn(page, '.carried .qr');
    expect(text.startsWith(`${ADDRESS}#`)).toBe(true);

    const pages = await pocketFolder();
    const site = createServer((request, response) => {
      const name = (request.url ?? '/').slice(1) || 'index.html';
      readFile(join(pages, name)).then(
        (bytes) =>
          response.setHeader('content-type', name.endsWith('.html') ? 'text/html' : 'text/javascript').end(bytes),
        () => response.writeHead(404).end(),
      );
    });
    await new Promise<void>((done) => site.listen(0, '127.0.0.1', done));
    closeAfter({
      close: () =>
        new Promise<void>((done) => {
          site.close(() => done());
          site.closeAllConnections();
        }),
    });
    const phone = await (await newContext({ viewport: PHONE, hasTouch: true })).newPage();
    await phone.clock.install({ time: AT_THE_TRACK });
    await phone.goto(`http://127.0.0.1:${(site.address() as AddressInfo).port}/#${text.split('#')[1]}`);
    await phone.waitForSelector('.acts');
    expect(await words(phone, 'h1')).toBe(`${SPOTS[2]!.number} ${SPOTS[2]!.name}`);
    await phone.locator('[data-key^="got-"]').first().click();
    await phone.locator('[data-key="late"]').click();
    await phone.locator('[data-key="hand-back"]').click();
    const [saved] = await Promise.all([phone.waitForEvent('download'), phone.locator('[data-key="save"]').click()]);
    const file = join(folder, 'taps.txt');
    await saved.saveAs(file);

    const before = desk.day.said().length;
    await page.setInputFiles('#taps-file', file);
    await until(page, '.taps .rows', 'Got ');
    expect(await page.locator('.taps .rows > li').count()).toBe(2);
    expect(desk.day.said().length).toBe(before);
    await page.locator('h1').first().click();
    await page.keyboard.press('y');
    await until(page, '.taps .rows', 'said already');
    expect(desk.day.said().length).toBe(before + 2);
    const kinds = desk.day.said().flatMap(({ decisions }) => decisions.map(({ kind }) => kind));
    expect(kinds.slice(-2)).toEqual(['slip', 'got']);
    await page.setInputFiles('#taps-file', file);
    await until(page, '.taps', 'All of it was said before.');
    expect(desk.day.said().length).toBe(before + 2);
  });

  it('PL736: the laptop’s camera reads the phone’s code, and is let go once it is read', async () => {
    const film = join(folder, 'film.y4m');
    await writeFile(film, filmOfCode(`tyrewall#${(await taps()).code}`));
    const browser = closeAfter(
      await openBrowser([
        '--use-fake-ui-for-media-stream',
        '--use-fake-device-for-media-stream',
        `--use-file-for-fake-video-capture=${film}`,
      ]),
    );
    const desk = closeAfter(await openDesk({ frames: 60, riders: 4 }, await atHand()));
    const page = await (await browser.newContext({ viewport: WIDE })).newPage();
    const refused: string[] = [];
    page.on('console', (message) => message.type() === 'error' && refused.push(message.text()));
    await page.goto(desk.url);
    await page.waitForSelector('#sheet:not([aria-busy])');
    await goTo(page, `http://127.0.0.1:${desk.port}`, '/before');
    await page.waitForSelector('.taps');
    await page.locator('h1').first().click();
    await page.keyboard.press('b');
    await until(page, '.taps .rows', 'N5 started 7 minutes late');
    await expect.poll(() => page.locator('video').count()).toBe(0);
    expect(await words(page, '.taps')).toContain('Got number 27 at 13:10');
    expect(refused.filter((text) => /Content Security|wasm/i.test(text))).toEqual([]);
  });

  it('PL736: where there is no camera it says so, and what to do', async () => {
    const { page, base } = await sit({ frames: 60, riders: 4 }, await atHand());
    await goTo(page, base, '/before');
    await page.waitForSelector('.taps');
    await page.locator('h1').first().click();
    await page.keyboard.press('b');
    await until(page, '.taps [role=alert]', 'Save the file on the phone');
  });

  it('PL733: a card handed out stands in people and on the sheet, and cards go on paper', async () => {
    const { page, base } = await sit({ frames: 60, riders: 4 }, await atHand());
    await goTo(page, base, '/before');
    await page.getByLabel('Card', { exact: true }).fill('17');
    await page.getByLabel('Name', { exact: true }).fill('Ada Example');
    await page.locator('h1').first().click();
    await page.keyboard.press('g');
    await until(page, '.phone-part', 'Card 17: Ada Example');
    expect((await openPeople(join(folder, 'people'))).all()).toMatchObject([
      { id: 'card-17', name: 'Ada Example', card: 17 },
    ]);
    const answer = await page.request.get(`${base}/api/number-cards?from=1&to=9`);
    expect(answer.headers()['content-type']).toBe('application/pdf');
    expect((await answer.body()).subarray(0, 4).toString()).toBe('%PDF');
  });

  for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
    for (const colorScheme of ['light', 'dark'] as const)
      it(`PL730: axe finds nothing serious and nothing hangs over the side, ${size}, ${colorScheme}`, async () => {
        const { page, desk, base } = await sit({ frames: 300, riders: 12 }, await atHand(), {
          viewport,
          colorScheme,
          bypassCSP: true,
        });
        await planAfternoon(desk);
        await goTo(page, base, '/before');
        await page.getByLabel('Where the pocket page is hosted').fill(ADDRESS);
        await page.keyboard.press('Enter');
        await until(page, '.address', ADDRESS);
        await page.locator('h1').first().click();
        await page.keyboard.press('c');
        await page.waitForSelector('.carried .qr');
        await writeFile(join(folder, 'taps.txt'), `tyrewall#${(await taps()).code}\n`);
        await page.setInputFiles('#taps-file', join(folder, 'taps.txt'));
        await page.waitForSelector('.taps .rows li');
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(page, '.phone-part :is(.act:not(.off), a)', size, 4);
      });
});
