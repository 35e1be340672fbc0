/**
 * The longest wait in choosing: a real Chromium is driven through a made-up evening of 120 riders, three corrections and one look at
 * 100 % each. A wait is from the key's own time stamp to the frame in which what it asked for was painted, every picture of it loaded.
 * The hand is quick: it rests three tenths of a second between two keys.
 */
import type { Page } from 'playwright-core';
import type { FakeDay } from '../../src/server/testing/fakeDay.js';
import { hasBrowser, openBrowser, openDesk } from '../../test/e2e/deskBrowser.js';
import type { Figures } from '../../tools/figures.js';

const FRAMES = 7500;
const RIDERS = 120;
/** Of a quick hand between two keys. */
const REST_MS = 300;

/** What a key asks for: this has to change. */
const SHOWN = {
  left: `document.querySelector('.side-by-side > .side')?.textContent ?? ''`,
  rider: `document.querySelector('.choosing-head .code')?.textContent ?? document.querySelector('h1')?.textContent`,
  isFull: `document.querySelector('.full-view') !== null`,
} as const;

interface Step {
  readonly key: string;
  readonly shows: keyof typeof SHOWN;
}
const CORRECTIONS: readonly Step[] = [
  { key: 'o', shows: 'left' },
  { key: 'l', shows: 'left' },
  { key: 'k', shows: 'left' },
];
const LOOK: readonly Step[] = [
  { key: 's', shows: 'isFull' },
  { key: 's', shows: 'isFull' },
];
const GO_ON: Step = { key: ' ', shows: 'rider' };

/** Runs in the page: answers once what is shown has changed and every picture stands there, with the milliseconds it took. */
const LISTEN = `const shown = { ${Object.entries(SHOWN)
  .map(([name, what]) => `${name}: () => ${what}`)
  .join(', ')} };
globalThis.waitFor = (shows) => {
  const look = shown[shows];
  const before = look();
  const isThere = () =>
    look() !== before && [...document.querySelectorAll('main img')].every((image) => image.complete && image.naturalWidth > 0);
  globalThis.waited = new Promise((resolve, reject) => {
    setTimeout(() => reject(new Error('Nothing changed within 10 s of ' + before)), 10_000);
    document.addEventListener('keydown', ({ timeStamp }) => {
      const painted = () => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => resolve(performance.now() - timeStamp);
        port2.postMessage(null);
      };
      const poll = () => requestAnimationFrame(() => (isThere() ? painted() : poll()));
      poll();
    }, { once: true, capture: true });
  });
};`;

async function press(page: Page, { key, shows }: Step): Promise<number> {
  await page.waitForTimeout(REST_MS);
  await page.evaluate(`waitFor('${shows}')`);
  await page.keyboard.press(key);
  return page.evaluate<number>('waited');
}

interface Waits {
  readonly corrections: number[];
  readonly looks: number[];
  readonly goingOn: number[];
}

async function goThrough(page: Page): Promise<Waits> {
  const waits: Waits = { corrections: [], looks: [], goingOn: [] };
  for (let rider = 0; rider < RIDERS; rider++) {
    for (const step of CORRECTIONS) {
      // A rider of one frame has no other to take instead.
      if (await isOff(page, step.key)) continue;
      waits.corrections.push(await press(page, step));
    }
    for (const step of LOOK) waits.looks.push(await press(page, step));
    waits.goingOn.push(await press(page, GO_ON));
  }
  return waits;
}

const isOff = async (page: Page, key: string): Promise<boolean> =>
  (await page.locator(`.choosing-acts button[aria-keyshortcuts="${key}"]`).count()) === 0;

/** Crops lie cut out already, as they do once a day was judged: here one picture stands for all of them. */
async function cutOneCropForAll(day: FakeDay): Promise<void> {
  const bike = day.state().arrangement.riders[0]!.face;
  const crop = await day.crop(bike.frameId, { left: 1200, top: 800, right: 2800, bottom: 1900 });
  day.crop = async () => crop;
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** Empty where no browser is there; that is told loudly by the look for it. */
export async function benchChoosing(): Promise<Figures> {
  if (!hasBrowser('going through the sets of a day')) return {};
  const desk = await openDesk({ frames: FRAMES, riders: RIDERS, untilHour: 18 });
  await cutOneCropForAll(desk.day);
  const browser = await openBrowser();
  try {
    const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 } })).newPage();
    await page.goto(desk.url);
    await page.goto(`http://127.0.0.1:${desk.port}/choosing`);
    await page.waitForSelector('.part-shot img');
    await page.evaluate(LISTEN);
    const waits = await goThrough(page);
    const all = [...waits.corrections, ...waits.looks, ...waits.goingOn];
    const told = (name: string, some: readonly number[]) =>
      `${some.length} ${name} ${median(some).toFixed(0)}, at most ${Math.max(...some).toFixed(0)} ms`;
    const note = [
      `${waits.goingOn.length} riders, medians`,
      told('corrections', waits.corrections),
      told('looks at 100 %', waits.looks),
      told('goings on', waits.goingOn),
      `${all.filter((ms) => ms > 100).length} over 100 ms`,
    ].join('; ');
    return { 'choose.screenWorstMs': { value: Math.max(...all), unit: 'ms', better: 'lower', note } };
  } finally {
    await browser.close();
    await desk.close();
  }
}
