/** A QR code (ISO/IEC 18004) as one drawn path, white around it as far as readers want. */
import { encode } from 'uqr';
import { drawn } from './dom.js';

const QUIET_MODULES = 4;

/** Null where the text is too long for any code. */
export function drawQr(text: string, level: 'L' | 'M', label: string): SVGElement | null {
  const rows = rowsOf(text, level);
  if (rows === null) return null;
  const size = rows.length + 2 * QUIET_MODULES;
  const path = rows
    .flatMap((row, y) => row.map((isDark, x) => (isDark ? `M${x + QUIET_MODULES} ${y + QUIET_MODULES}h1v1h-1z` : '')))
    .join('');
  return drawn('svg', { class: 'qr', viewBox: `0 0 ${size} ${size}`, role: 'img', 'aria-label': label }, [
    drawn('rect', { width: size, height: size, fill: '#fff' }),
    drawn('path', { d: path, fill: '#000', 'shape-rendering': 'crispEdges' }),
  ]);
}

function rowsOf(text: string, level: 'L' | 'M'): boolean[][] | null {
  try {
    return encode(text, { ecc: level, border: 0 }).data;
  } catch {
    return null;
  }
}
