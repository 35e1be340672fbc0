import { describe, expect, it } from 'vitest';
import { groupDigits } from './groupDigits.js';
import type { Digit, DigitMaps } from './types.js';

/**
 * Plates as rules print them, in heights of a figure of 140 mm: the international motocross rules of 2013, art. 55 (at least
 * 70 wide, room for three), national rules of 2017 (75), superbikes of 2013 (80); at least 10 between figures.
 */
const WIDTHS = [70 / 140, 75 / 140, 80 / 140] as const;
/** From the least to a whole figure's width of the loosest plates. */
const GAPS = [10 / 140, 0.2, 0.5] as const;
const HEIGHT = 40;

/** The figures as the network would give them, leaning by an angle about the middle of their number. */
function figures(text: string, width: number, gap: number, leanDeg: number): Digit[] {
  const [cos, sin] = [Math.cos((leanDeg * Math.PI) / 180), Math.sin((leanDeg * Math.PI) / 180)];
  return [...text].map((figure, place) => {
    const along = (place - (text.length - 1) / 2) * (width + gap) * HEIGHT;
    const chances = Array.from({ length: 10 }, (_, k) => (k === Number(figure) ? 0.91 : 0.01));
    const lengths = [1, 2, 3].map((n) => (n === text.length ? 0.9 : 0.05));
    const at = { x: 100 + along * cos, y: 100 + along * sin, numberX: 100, numberY: 100 };
    return { ...at, score: 0.9, width: width * HEIGHT, height: HEIGHT, cos, sin, chances, lengths, whole: 1 };
  });
}
const sure: DigitMaps = { columns: 50, rows: 50, data: new Float32Array(27 * 2500).fill(0.9) };

describe('figures in the proportions that rules print', () => {
  const cases = WIDTHS.flatMap((width) =>
    GAPS.flatMap((gap) => [-60, -30, 0, 45].map((lean) => ({ width, gap, lean }))),
  );

  it.each(['46', '118'])('%s is one number in reading order at any lean', (text) => {
    for (const { width, gap, lean } of cases) {
      const groups = groupDigits(figures(text, width, gap, lean).reverse(), sure);
      expect(groups.map((group) => group.text)).toEqual([text]);
    }
    expect(cases).toHaveLength(36);
  });
});
