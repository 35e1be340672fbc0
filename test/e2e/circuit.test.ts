/** The circuit in a real browser: from a recorded lap to a saved circuit by keyboard alone, by hand, on both sizes. */
import { readFile } from 'node:fs/promises';
import type { FileChooser, Page } from 'playwright-core';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { EBBSTONE } from '../../demo/circuit/ebbstone.js';
import { gpxOf, recordLaps } from '../../demo/circuit/recordLaps.js';
import { seededRandom } from '../../src/core/numeric/random.js';
import type { Circuit } from '../../src/core/plan/index.js';
import { readCircuit, viewOf, writeCircuit } from '../../src/core/plan/index.js';
import type { CircuitView } from '../../src/server/circuitTypes.js';
import { hasBrowser } from './deskBrowser.js';
import { hasNothingGrave, hasRoomToPress, isNoWiderThanScreen } from './screenChecks.js';
import { goTo, isSaid, isTakenBack, PHONE, until, useDesks, WIDE, words } from './sitting.js';

const LAP = gpxOf(
  recordLaps(
    EBBSTONE.centreline,
    { laps: 1, speed: 20, from: 0.1, on: 0.05, walksToCar: false },
    { errorM: 3, lasting: 0.95 },
    seededRandom(7),
  ),
);
const file = (name: string, text: string) => ({
  name,
  mimeType: 'application/octet-stream',
  buffer: Buffer.from(text),
});
/** Listened for early: a browser that hears of it only when the key is pressed opens its own window instead. */
const chooserOf = (page: Page): Promise<FileChooser> =>
  new Promise((resolve) => {
    page.once('filechooser', resolve);
  });
/** The list of a wide sheet is one line there, above what is said of the held thing. */
async function choosesOnPhone(page: Page): Promise<void> {
  expect(await page.locator('.things').isVisible()).toBe(false);
  await page.locator('.things-choice select').selectOption({ label: '3 Slipway' });
  await expect.poll(() => page.getByLabel('Its name').inputValue()).toBe('Slipway');
}
const invented = { inventedCircuit: async () => EBBSTONE };

describe.skipIf(!hasBrowser('the circuit in a browser'))('the circuit, in a browser', () => {
  const { sit } = useDesks();
  const few = { frames: 60, riders: 4 };
  const viewAt = async (page: Page, base: string): Promise<CircuitView> =>
    (await (await page.request.get(`${base}/api/circuit`)).json()) as CircuitView;
  const circuitAt = async (page: Page, base: string): Promise<Circuit> => (await viewAt(page, base)).circuit!;
  const takeInvented = async (page: Page, base: string) => {
    await goTo(page, base, '/circuit');
    await page.waitForSelector('#circuit-file');
    await page.keyboard.press('i');
    await page.waitForSelector('.held-fields');
  };
  const shows = (page: Page, text: string) => until(page, '.circuit-columns > .part.ask > h2', text);

  it('PL115: by keyboard alone a recorded lap becomes a saved circuit with three spots and a way', async () => {
    const { page, base } = await sit(few);
    const chooser = chooserOf(page);
    const elsewhere: string[] = [];
    page.on('request', (request) => request.url().startsWith(base) || elsewhere.push(request.url()));
    const keys = async (...pressed: readonly string[]) => {
      for (const key of pressed) await page.keyboard.press(key);
    };
    await goTo(page, base, '/circuit');
    expect(await words(page, '.headline')).toBe('No circuit is drawn yet.');
    await page.locator('#circuit-file').press('Enter');
    await (await chooser).setFiles(file('lap.gpx', LAP));
    await until(page, '.headline', 'Is this Ebbstone?');
    expect(await words(page, '.lead')).toMatch(
      /One lap of about \d+ m, clockwise: the line errs as the recording does/,
    );
    await keys('c');
    await until(page, '.headline', 'Ebbstone: no spot yet');

    // The recording breaks off on the track, and with it the guess of where the van stands.
    await until(page, '.faults', 'The paddock lies on the track');
    await page.locator('.things button', { hasText: 'Paddock' }).focus();
    await keys('Space', 'Shift+ArrowLeft', 'Shift+ArrowLeft', 'Shift+ArrowLeft');
    await expect.poll(() => page.locator('.faults').count()).toBe(0);

    const names = ['Beacon', 'Gannet', 'Slipway'];
    const away = ['Shift+ArrowUp', 'Shift+ArrowDown', 'Shift+ArrowRight'];
    for (const [i, name] of names.entries()) {
      await page.locator('.things button', { hasText: `Bend: Bend ${2 * i + 1}` }).focus();
      await keys('Space', 's');
      await shows(page, `Spot ${i + 1}`);
      await until(page, '.faults', 'stands on the track');
      await keys(...Array.from({ length: 3 }, () => away[i]!), 'ArrowLeft', 'v');
      await expect.poll(() => page.locator('.faults > li').allTextContents()).toEqual([]);
      await keys('e');
      await page.keyboard.insertText(name);
      await keys('Tab', 'Tab');
      await page.keyboard.insertText('2.5');
      await keys('Tab', 'Tab', 'Tab', 'Tab', 'y', 'Escape');
      await expect
        .poll(async () => (await circuitAt(page, base)).spots[i])
        .toMatchObject({
          name,
          number: i + 1,
          heightM: 2.5,
          needsPermit: true,
        });
    }

    await keys('w');
    await shows(page, 'A way of 1 point so far');
    await keys(...Array.from({ length: 4 }, () => 'Shift+ArrowRight'), 'a', 'Shift+ArrowDown', 'a', 'd');
    await shows(page, 'The way path');
    await keys('e', 's', 'Tab', 'Tab', 'o', 'Escape');
    await expect
      .poll(async () => (await circuitAt(page, base)).ways)
      .toMatchObject([{ kind: 'service-road', crossing: 'none', onFoot: 'with-permit' }]);

    await keys('Control+z');
    await isTakenBack(page);
    const onFoot = () => page.getByLabel('On foot while the track is hot').inputValue();
    await expect.poll(onFoot).toBe('anyone');
    expect((await circuitAt(page, base)).ways[0]?.onFoot).toBe('anyone');
    await keys('Control+Shift+z');
    await until(page, '.said-line', 'It stands again');
    await expect.poll(onFoot).toBe('with-permit');
    expect((await circuitAt(page, base)).ways[0]?.onFoot).toBe('with-permit');

    expect((await viewAt(page, base)).hasPermit).toBeNull();
    await keys('y');
    await expect.poll(async () => (await viewAt(page, base)).hasPermit).toBe(true);

    const saving = page.waitForEvent('download');
    await keys('g');
    const download = await saving;
    expect(download.suggestedFilename()).toBe('Ebbstone.geojson');
    const saved = readCircuit(await readFile((await download.path())!, 'utf8')).circuit!;
    expect(saved.spots.map(({ name }) => name)).toEqual(names);
    expect(saved).toEqual(await circuitAt(page, base));
    for (const spot of saved.spots) expect(viewOf(saved, spot)!.distanceM).toBeLessThan(60);

    await page.reload();
    await until(page, '.headline', 'Ebbstone: 3 spots');
    expect(elsewhere).toEqual([]);
  });

  it('PL116: faults of a file are named, lettered on the map, and it is taken only when said', async () => {
    const { page, base } = await sit(few);
    const crossed = {
      ...EBBSTONE,
      centreline: EBBSTONE.centreline.with(10, EBBSTONE.centreline[200]!),
      spots: EBBSTONE.spots.map((spot, i) => (i === 2 ? { ...spot, place: EBBSTONE.centreline[150]! } : spot)),
    };
    await goTo(page, base, '/circuit');
    await page.setInputFiles('#circuit-file', file('bad.geojson', writeCircuit(crossed)));
    await until(page, '.faults', 'The centreline crosses itself');
    const told = (await page.locator('.faults > li').allTextContents()).join('\n');
    expect(told).toMatch(/b Spot 3, Slipway, stands on the track/);
    const letters = await page.locator('.fault text').allTextContents();
    expect(letters).toEqual(expect.arrayContaining(['a', 'b']));
    await page.keyboard.press('b');
    await page.waitForSelector('#circuit-file');
    await page.setInputFiles('#circuit-file', file('notes.txt', 'a note'));
    await until(page, '.faults', 'Expected a GeoJSON file, but it is not JSON');
    expect(await page.locator('.act.off').first().textContent()).toContain('Circuit is this');
    expect((await viewAt(page, base)).circuit).toBeNull();
  });

  it('PL123: of a recording whose latitude and longitude are swapped they are exchanged by one key, and back', async () => {
    const { page, base } = await sit(few);
    const swapped = LAP.replace(/lat="([^"]*)" lon="([^"]*)"/g, 'lat="$2" lon="$1"');
    expect(swapped).not.toBe(LAP);
    await goTo(page, base, '/circuit');
    await page.locator('#circuit-file').setInputFiles(file('lap.gpx', swapped));
    await until(page, '.faults', 'If they are swapped, exchange the values');
    await page.keyboard.press('s');
    await until(page, '.lead', 'Latitude and longitude are exchanged, as you said.');
    await expect.poll(() => words(page, '#sheet')).not.toContain('If they are swapped');
    await page.keyboard.press('s');
    await until(page, '.faults', 'If they are swapped');
    await page.keyboard.press('s');
    await expect.poll(() => words(page, '#sheet')).not.toContain('If they are swapped');
    await page.keyboard.press('c');
    await isSaid(page);
    const { latitudeDeg } = (await circuitAt(page, base)).centreline[0]!;
    expect(latitudeDeg).toBeCloseTo(EBBSTONE.centreline[0]!.latitudeDeg, 0);
  });

  it('PL123: a name is given while a file is looked at, and a zone has it read again', async () => {
    const { page, base } = await sit(few);
    await goTo(page, base, '/circuit');
    await page.locator('#circuit-file').setInputFiles(file('lap.gpx', LAP));
    await page.getByLabel('Its name').fill('Harrow Lane');
    await page.getByLabel('Its time zone').fill('Ebbstone/Pier');
    await page.locator('h1').click();
    await until(page, '.headline', 'Is this Harrow Lane?');
    await until(page, '.faults', 'Ebbstone/Pier');
    await page.getByLabel('Its time zone').fill('Europe/Lisbon');
    await page.locator('h1').click();
    await expect.poll(() => words(page, '.faults')).not.toContain('Ebbstone/Pier');
    await page.keyboard.press('c');
    await isSaid(page);
    expect(await circuitAt(page, base)).toMatchObject({ name: 'Harrow Lane', zone: 'Europe/Lisbon' });
  });

  it('PL116: a file dropped on the circuit there is comes to be looked at, and that circuit stays until another is taken', async () => {
    const { page, base } = await sit(few, invented);
    await takeInvented(page, base);
    const data = await page.evaluateHandle((text) => {
      const browser = globalThis as unknown as { DataTransfer: new () => { items: { add(file: File): void } } };
      const dropped = new browser.DataTransfer();
      dropped.items.add(new File([text], 'lap.gpx'));
      return dropped;
    }, LAP);
    await page.dispatchEvent('.circuit-map', 'drop', { dataTransfer: data });
    await until(page, '.headline', 'Is this Ebbstone?');
    await page.keyboard.press('b');
    await until(page, '.headline', 'Another circuit in place of Ebbstone?');
    await page.keyboard.press('b');
    await page.waitForSelector('.things');
    expect(await circuitAt(page, base)).toEqual(EBBSTONE);
  });

  it('PL115: by hand a spot is dragged and its view turned, each one change; a tap sets the cross', async () => {
    const { page, base, desk } = await sit(few, invented);
    await takeInvented(page, base);
    const before = await circuitAt(page, base);
    const middle = async (selector: string) => {
      const box = (await page.locator(selector).first().boundingBox())!;
      return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    };
    const drag = async (from: { x: number; y: number }, by: { x: number; y: number }) => {
      await page.mouse.move(from.x, from.y);
      await page.mouse.down();
      for (let i = 1; i <= 5; i++) await page.mouse.move(from.x + (by.x * i) / 5, from.y + (by.y * i) / 5);
      await page.mouse.up();
    };
    const said = desk.day.said().length;
    await drag(await middle('.spot .disc'), { x: -30, y: 40 });
    await isSaid(page);
    await expect.poll(async () => (await circuitAt(page, base)).spots[0]!.place).not.toEqual(before.spots[0]!.place);
    const moved = (await circuitAt(page, base)).spots[0]!;
    expect(moved.place.longitudeDeg).toBeLessThan(before.spots[0]!.place.longitudeDeg);
    expect(moved.place.latitudeDeg).toBeLessThan(before.spots[0]!.place.latitudeDeg);
    expect(desk.day.said()).toHaveLength(said + 1);

    const grip = await middle('.view-grip');
    const disc = await middle('.spot .disc');
    await drag(grip, { x: disc.x + 60 - grip.x, y: disc.y - grip.y });
    await expect.poll(async () => (await circuitAt(page, base)).spots[0]!.viewAzimuthDeg).toBeGreaterThan(85);
    expect((await circuitAt(page, base)).spots[0]!.viewAzimuthDeg).toBeLessThan(95);
    expect((await circuitAt(page, base)).spots.slice(1)).toEqual(before.spots.slice(1));

    await page.locator('.circuit-map svg').click({ position: { x: 40, y: 60 } });
    await shows(page, 'The cross');
    await page.keyboard.press('z');
    await until(page, '.circuit-map', '100 m');
    await page.keyboard.press('s');
    await expect.poll(async () => (await circuitAt(page, base)).spots.length).toBe(before.spots.length + 1);
  });

  it('PL120: an arrow pressed right after taking back waits for it and moves only by itself', async () => {
    const { page, base, desk } = await sit(few, invented);
    await takeInvented(page, base);
    const before = (await circuitAt(page, base)).spots[0]!;
    await page.locator('.things button', { hasText: '1 Beacon' }).click();
    await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(async () => (await circuitAt(page, base)).spots[0]!.place).not.toEqual(before.place);
    const change = desk.day.said().at(-1)!.decisions[0]!;
    expect(change.kind).toBe('circuit-edit');
    expect(JSON.stringify(change).length).toBeLessThan(400);
    await page.keyboard.press('Control+z');
    await page.keyboard.press('ArrowUp');
    await expect
      .poll(async () => (await circuitAt(page, base)).spots[0]!.place.latitudeDeg)
      .toBeGreaterThan(before.place.latitudeDeg);
    expect((await circuitAt(page, base)).spots[0]!.place.longitudeDeg).toBeCloseTo(before.place.longitudeDeg, 6);
  });

  it('PL114: a map image is laid under the drawing by two places, by keys too, and stays in this browser', async () => {
    const { page, base, desk } = await sit(few, invented);
    const chooser = chooserOf(page);
    await takeInvented(page, base);
    const said = desk.day.said().length;
    const png = await sharp({ create: { width: 400, height: 300, channels: 3, background: '#8a8' } })
      .png()
      .toBuffer();
    await page.keyboard.press('m');
    await (await chooser).setFiles({ name: 'map.png', mimeType: 'image/png', buffer: png });
    await page.waitForSelector('.pinned img');
    await page.locator('.things button', { hasText: '1 Beacon' }).click();
    await page.getByText('first place is at the cross').press('Space');
    await page.locator('.things button', { hasText: '8 Turnstone' }).click();
    await page.getByLabel('Second place, from the top, px').fill('280');
    await page.getByText('second place is at the cross').press('Space');
    await page.waitForSelector('.under-image');
    expect(await page.locator('.pin-fields ~ p').first().textContent()).toMatch(/^A pixel is \d+\.\d\d m/);
    await page.reload();
    await page.waitForSelector('.under-image');
    expect(desk.day.said()).toHaveLength(said);
  });

  for (const [size, viewport] of Object.entries({ wide: WIDE, phone: PHONE }))
    for (const colorScheme of ['light', 'dark'] as const)
      it(`PL115: axe finds nothing serious and nothing hangs over the side, ${size}, ${colorScheme}`, async () => {
        const { page, base } = await sit(few, invented, { viewport, colorScheme, bypassCSP: true });
        await takeInvented(page, base);
        await hasNothingGrave(page);
        await isNoWiderThanScreen(page);
        await hasRoomToPress(
          page,
          ':is(.things button, .circuit-sheet .act:not(.off), .word-field :is(input, select)):visible',
          size,
          size === 'phone' ? 15 : 30,
        );
        if (size === 'phone') await choosesOnPhone(page);
      });
});
