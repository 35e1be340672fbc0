/** Sits a person down at the desk: a paired page on the made-up day, and what is read off it. */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import type { QuestionsView, QuestionView } from '../../src/server/types.js';
import { type OpenDesk, openBrowser, openDesk } from './deskBrowser.js';

export const WIDE = { width: 1440, height: 900 };
export const PHONE = { width: 390, height: 844 };

interface Sitting {
  readonly page: Page;
  readonly desk: OpenDesk;
  readonly base: string;
}

/** One browser for the tests around; what each of them opens is closed behind it. */
export function useDesks() {
  let browser: Browser;
  const open: { close(): Promise<void> }[] = [];
  beforeAll(async () => {
    browser = await openBrowser();
  });
  afterAll(() => browser.close());
  afterEach(async () => {
    for (const one of open.splice(0).reverse()) await one.close();
  });
  const closeAfter = <T extends { close(): Promise<void> }>(one: T): T => {
    open.push(one);
    return one;
  };
  const closeNow = async (one: { close(): Promise<void> }): Promise<void> => {
    open.splice(open.indexOf(one), 1);
    await one.close();
  };
  const newContext = async (options: BrowserContextOptions = {}): Promise<BrowserContext> =>
    closeAfter(await browser.newContext({ viewport: WIDE, reducedMotion: 'reduce', ...options }));
  /** A paired page at the day, and the desk behind it. */
  const sit = async (
    options: Parameters<typeof openDesk>[0] = {},
    more: Parameters<typeof openDesk>[1] = {},
    context: BrowserContextOptions = {},
  ): Promise<Sitting> => {
    const desk = closeAfter(await openDesk({ frames: 600, riders: 30, ...options }, more));
    const page = await (await newContext(context)).newPage();
    await page.goto(desk.url);
    await page.waitForSelector('#sheet:not([aria-busy])');
    return { page, desk, base: `http://127.0.0.1:${desk.port}` };
  };
  return { sit, newContext, closeAfter, closeNow };
}

/** The words of the first element that fits. */
export const words = async (page: Page, selector: string): Promise<string> =>
  (await page.locator(selector).first().textContent()) ?? '';

/** The focused element's words, as a screen reader names it. */
export const focused = (page: Page): Promise<string> =>
  page.evaluate(`document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent`);

export const until = async (page: Page, selector: string, text: string): Promise<void> => {
  await expect.poll(() => words(page, selector), { timeout: 20_000 }).toContain(text);
};

export async function tabTo(page: Page, wanted: RegExp): Promise<void> {
  for (let i = 0; i < 120; i++) {
    await page.keyboard.press('Tab');
    if (wanted.test(await focused(page))) return;
  }
  throw new Error(`Tab never came to ${wanted}`);
}

export const riderWithPasses = (desk: OpenDesk, least: number) =>
  desk.day.state().arrangement.riders.find((rider) => rider.passes.length >= least)!;

export const goTo = async (page: Page, base: string, path: string): Promise<void> => {
  await page.goto(base + path);
  await page.waitForSelector('#sheet:not([aria-busy])');
};

/** The address of the first question of a kind. */
export async function questionOf(page: Page, base: string, kind: QuestionView['kind']): Promise<string> {
  const { questions } = (await (await page.request.get(`${base}/api/questions`)).json()) as QuestionsView;
  const first = questions.find((question) => question.kind === kind);
  if (!first) throw new Error(`Expected a question of kind ${kind} on the made-up day, but none is open.`);
  return `/questions?q=${encodeURIComponent(first.id)}`;
}

export const isSaid = (page: Page): Promise<void> => page.locator('.said-line.said').waitFor();
export const isTakenBack = (page: Page): Promise<void> => page.locator('.said-line.taken-back').waitFor();
