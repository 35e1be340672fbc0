/** What every screen must pass at every size: nothing grave by axe, nothing over the side, and room for a thumb. */
import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** Fewer passes than this mean that axe looked at an empty page. */
const LEAST_PASSES = 15;

/** Answers how many of axe's rules passed. The page must have been opened with `bypassCSP`. */
export async function hasNothingGrave(page: Page, least = LEAST_PASSES): Promise<number> {
  await page.evaluate(axe.source);
  const result = await page.evaluate(() => (globalThis as unknown as { axe: typeof axe }).axe.run());
  const grave = result.violations.filter(({ impact }) => impact === 'serious' || impact === 'critical');
  const where = new URL(page.url()).pathname;
  expect(
    grave.map(
      ({ id, nodes }) =>
        `${where}: ${id}: ${nodes
          .map(({ html }) => html)
          .slice(0, 3)
          .join(' | ')}`,
    ),
  ).toEqual([]);
  expect(result.passes.length).toBeGreaterThan(least);
  return result.passes.length;
}

export async function isNoWiderThanScreen(page: Page): Promise<void> {
  const over = await page.evaluate<number>('document.documentElement.scrollWidth - window.innerWidth');
  expect(over, new URL(page.url()).pathname).toBeLessThanOrEqual(0);
}

/** Targets: 26 px at the desk, 44 on a phone. `more` than so many are there to be measured. */
export async function hasRoomToPress(page: Page, selector: string, size: string, more: number): Promise<void> {
  const pressed = await page
    .locator(selector)
    .evaluateAll((all) =>
      all.map((one) => ({ height: one.getBoundingClientRect().height, html: one.outerHTML.slice(0, 200) })),
    );
  expect(pressed.length).toBeGreaterThan(more);
  for (const { height, html } of pressed) expect(height, html).toBeGreaterThanOrEqual(size === 'phone' ? 44 : 26);
}
