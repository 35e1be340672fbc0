/**
 * How long the first screen takes: from navigation in a real Chromium to the headline and every group painted, on a
 * made-up day of 7,500 frames and 120 riders. Pictures fill their places afterwards and are not waited for.
 */

import { hasBrowser, openBrowser, openDesk } from '../../test/e2e/deskBrowser.js';
import type { Figures } from '../../tools/figures.js';

const FRAMES = 7500;
const RIDERS = 120;
const WARM_UPS = 1;
const RUNS = 7;

/** Runs in the page: resolves when headline and groups stand in the document and the frame after that was painted. */
const UNTIL_PAINTED = `new Promise((resolve) => {
  const isThere = () => document.querySelector('.headline') && document.querySelectorAll('.group').length >= 3;
  const painted = () => requestAnimationFrame(() => requestAnimationFrame(() => resolve(performance.now())));
  if (isThere()) return painted();
  const observer = new MutationObserver(() => {
    if (!isThere()) return;
    observer.disconnect();
    painted();
  });
  observer.observe(document, { childList: true, subtree: true });
})`;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

/** Empty where no browser is there; that is told loudly by the look for it. */
export async function benchDesk(): Promise<Figures> {
  if (!hasBrowser('the first screen of the desk')) return {};
  const desk = await openDesk({ frames: FRAMES, riders: RIDERS, untilHour: 18 });
  const browser = await openBrowser();
  try {
    const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
    const page = await context.newPage();
    await page.goto(desk.url);
    await page.waitForSelector('.group');
    const times: number[] = [];
    for (let run = 0; run < WARM_UPS + RUNS; run++) {
      // A state of its own each time: the views are built anew, as after a card has come in.
      desk.day.measureSome(0);
      await page.goto('about:blank');
      await page.goto(`http://127.0.0.1:${desk.port}/`, { waitUntil: 'commit' });
      const ms = await page.evaluate<number>(UNTIL_PAINTED);
      if (run >= WARM_UPS) times.push(ms);
    }
    const { arrangement } = desk.day.state();
    const note = [
      `${arrangement.exposures.length} frames, ${arrangement.riders.length} riders`,
      `median of ${times.length}, ${Math.min(...times).toFixed(0)} to ${Math.max(...times).toFixed(0)} ms`,
    ].join('; ');
    return { 'desk.firstScreenMs7500': { value: median(times), unit: 'ms', better: 'lower', note } };
  } finally {
    await browser.close();
    await desk.close();
  }
}
