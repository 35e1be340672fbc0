/** A QR code of half blocks, dark on light whatever the terminal's own colours are. */
import type { QrRuns } from '../core/measure/cards/index.js';

const DARK_ON_LIGHT = '\u001b[30;107m';
const PLAIN = '\u001b[0m';
/** By whether the upper and the lower half are dark. */
const BLOCKS = [' ', '▄', '▀', '█'] as const;

export function terminalQr({ runs, size }: QrRuns): readonly string[] {
  const rows = Array.from({ length: size + (size % 2) }, () => new Array<boolean>(size).fill(false));
  for (const { x, y, length } of runs) rows[y]!.fill(true, x, x + length);
  return Array.from({ length: rows.length / 2 }, (_, line) => {
    const [upper, lower] = [rows[2 * line]!, rows[2 * line + 1]!];
    const blocks = upper.map((isDark, x) => BLOCKS[(isDark ? 2 : 0) + (lower[x] ? 1 : 0)]!);
    return `${DARK_ON_LIGHT}${blocks.join('')}${PLAIN}`;
  });
}
