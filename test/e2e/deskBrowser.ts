/** Opens the desk on a made-up day in Debian's Chromium. */
import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';
import { createDesk, type DeskOptions, type ListeningDesk } from '../../src/server/index.js';
import { createFakeDay, type FakeDay } from '../../src/server/testing/fakeDay.js';
import { buildWeb, WEB_FOLDER } from './builtScreens.js';

const CHROMIUM = '/usr/bin/chromium';

/** 13:12 at the made-up circuit. */
const LUNCH = Date.parse('2026-09-19T12:12:00Z');

/** Whether a browser is there; absence is told loudly, and is a failure where oracles are required. */
export function hasBrowser(what: string): boolean {
  if (existsSync(CHROMIUM)) return true;
  const sentence = `Skipped: ${what}. Expected Chromium at ${CHROMIUM}; install Debian's chromium.`;
  if (process.env.REQUIRE_ORACLES === '1') throw new Error(sentence);
  console.warn(sentence);
  return false;
}

export const openBrowser = (more: readonly string[] = []): Promise<Browser> =>
  chromium.launch({
    executablePath: CHROMIUM,
    args: [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...more,
    ],
  });

export interface OpenDesk extends ListeningDesk {
  readonly day: FakeDay;
}

export async function openDesk(
  options: Parameters<typeof createFakeDay>[0] = {},
  more: Partial<DeskOptions> = {},
): Promise<OpenDesk> {
  await buildWeb();
  const day = createFakeDay(options);
  const desk = createDesk(day, { token: 'blue-kerb-seven', webFolder: WEB_FOLDER, now: () => LUNCH, ...more });
  const listening = await desk.listen();
  return {
    ...listening,
    day,
    close: async () => {
      await listening.close();
      await day.close();
    },
  };
}
