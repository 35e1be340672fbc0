/** A QR code drawn on the page. */
import { qrPath } from '../core/measure/cards/qrPath.js';
import { drawn } from './dom.js';

/** Null where the text is too long for any code. */
export function drawQr(text: string, level: 'L' | 'M', label: string): SVGElement | null {
  const qr = qrPath(text, level);
  if (qr === null) return null;
  return drawn('svg', { class: 'qr', viewBox: `0 0 ${qr.size} ${qr.size}`, role: 'img', 'aria-label': label }, [
    drawn('rect', { width: qr.size, height: qr.size, fill: '#fff' }),
    drawn('path', { d: qr.path, fill: '#000', 'shape-rendering': 'crispEdges' }),
  ]);
}
