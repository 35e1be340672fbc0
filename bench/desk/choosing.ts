/**
 * The longest wait in choosing: a real Chromium is driven through a made-up evening of 120 riders, three corrections and one look at
 * 100 % each. A wait is from the key's own time stamp to the frame in which what it asked for was painted, every picture of it loaded.
 * The hand is quick: it rests three tenths of a second between two keys.
 */
import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import type { Page } from 'playwright-core';
import { hasBrowser, openBrowser } from '../../test/e2e/deskBrowser.js';
import type { Figures } from '../../tools/figures.js';

/** What `eveningChild.ts` is asked for, and answers. */
export interface Evening {
  readonly frames: number;
  readonly riders: number;
}
export interface OpenEvening {
  readonly url: string;
  readonly port: number;
}

const EVENING: Evening = { frames: 7500, riders: 120 };
/** So many riders at a time it is said how far it is: all of them take five minutes. */
const TOLD_EVERY = 20;
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

const all = ({ corrections, looks, goingOn }: Waits): readonly number[] => [...corrections, ...looks, ...goingOn];

async function goThrough(page: Page): Promise<Waits> {
  const waits: Waits = { corrections: [], looks: [], goingOn: [] };
  for (let rider = 1; rider <= EVENING.riders; rider++) {
    for (const step of CORRECTIONS) {
      // A rider of one frame has no other to take instead.
      if (await isOff(page, step.key)) continue;
      waits.corrections.push(await press(page, step));
    }
    for (const step of LOOK) waits.looks.push(await press(page, step));
    waits.goingOn.push(await press(page, GO_ON));
    if (rider % TOLD_EVERY === 0)
      console.log(`  ${rider} of ${EVENING.riders} riders, at most ${Math.max(...all(waits)).toFixed(0)} ms`);
  }
  return waits;
}

const isOff = async (page: Page, key: string): Promise<boolean> =>
  (await page.locator(`.choosing-acts button[aria-keyshortcuts="${key}"]`).count()) === 0;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** Who opens it ends it. */
async function openEvening(): Promise<OpenEvening & { readonly process: ChildProcess }> {
  const process = fork(new URL('./eveningChild.ts', import.meta.url));
  process.send(EVENING);
  const ended = once(process, 'exit').then(() => {
    throw new Error('Expected the desk of a made-up evening to open but its process ended. What it said stands above.');
  });
  const [open] = (await Promise.race([once(process, 'message'), ended])) as [OpenEvening];
  return { ...open, process };
}

/** Empty where no browser is there; that is told loudly by the look for it. */
export async function benchChoosing(): Promise<Figures> {
  if (!hasBrowser('going through the sets of a day')) return {};
  const evening = await openEvening();
  const browser = await openBrowser();
  try {
    const page = await (await browser.newContext({ viewport: { width: 1440, height: 900 } })).newPage();
    await page.goto(evening.url);
    await page.goto(`http://127.0.0.1:${evening.port}/choosing`);
    await page.waitForSelector('.part-shot img');
    await page.evaluate(LISTEN);
    const waits = await goThrough(page);
    const told = (name: string, some: readonly number[]) =>
      `${some.length} ${name} ${median(some).toFixed(0)}, at most ${Math.max(...some).toFixed(0)} ms`;
    const note = [
      `${waits.goingOn.length} riders, medians`,
      told('corrections', waits.corrections),
      told('looks at 100 %', waits.looks),
      told('goings on', waits.goingOn),
      `${all(waits).filter((ms) => ms > 100).length} over 100 ms`,
    ].join('; ');
    return { 'choose.screenWorstMs': { value: Math.max(...all(waits)), unit: 'ms', better: 'lower', note } };
  } finally {
    await browser.close();
    evening.process.disconnect();
  }
}
