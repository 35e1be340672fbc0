import { describe, expect, it } from 'vitest';
import { numberDistance, numberWidth } from './digits.js';

/**
 * Plates as rules print them, mm: the international motocross rules of 2013, art. 55 (figures at least 140 high and 70 wide,
 * stroke 25, room for three), and at least 10 between figures (a national federation's). Superbikes of 2013 had 80 wide
 * ones; ours are wider still, as painted by hand.
 */
const RULE = { height: 140, leastWidth: 70, stroke: 25, leastGap: 10 } as const;
const STEP = 0.005;

/** Runs of ink along a row, in heights of the figure. */
function runs(text: string, y: number): { readonly from: number; readonly to: number }[] {
  const found: { from: number; to: number }[] = [];
  const half = numberWidth(text) / 2 + 0.3;
  let from: number | null = null;
  for (let x = -half; x <= half; x += STEP) {
    const isInk = numberDistance(text, x, y) < 0;
    if (isInk && from === null) from = x;
    if (!isInk && from !== null) {
      found.push({ from, to: x });
      from = null;
    }
  }
  return found;
}

const ROWS = Array.from({ length: 240 }, (_, i) => -0.6 + i * STEP);

describe('figures of race numbers', () => {
  it.each([...'0123456789'])('%s is as high as it says, and as wide as the rules ask', (figure) => {
    const inked = ROWS.map((y) => runs(figure, y)).filter((row) => row.length > 0);
    const all = inked.flat();
    expect(Math.abs(inked.length * STEP - 1)).toBeLessThan(0.03);
    const width = Math.max(...all.map(({ to }) => to)) - Math.min(...all.map(({ from }) => from));
    // A 1 is narrower everywhere.
    if (figure !== '1') expect(width).toBeGreaterThanOrEqual(RULE.leastWidth / RULE.height);
    expect(width).toBeLessThan(0.8);
  });

  it('have the stroke of the rules, to a fifteenth', () => {
    const [stem] = runs('1', -0.2);
    expect((stem!.to - stem!.from) * RULE.height).toBeGreaterThan(RULE.stroke * (14 / 15));
    expect((stem!.to - stem!.from) * RULE.height).toBeLessThan(RULE.stroke * (16 / 15) + STEP * RULE.height);
  });

  it('stand at least as far apart as the rules ask', () => {
    const gaps = ROWS.flatMap((y) => {
      const left = runs('88', y).filter(({ from }) => from < 0);
      const right = runs('88', y).filter(({ from }) => from >= 0);
      return left.length && right.length ? [right[0]!.from - left.at(-1)!.to] : [];
    });
    expect(gaps.length).toBeGreaterThan(150);
    expect(Math.min(...gaps) * RULE.height).toBeGreaterThanOrEqual(RULE.leastGap);
  });
});
