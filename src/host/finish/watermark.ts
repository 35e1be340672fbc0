/** The watermark of a proof as an SVG of the proof's size, made of outlines only. */
import { type Mark, type PixelSize, placeMarks } from '../../core/finish/index.js';
import type { Box } from '../../core/measure/types.js';
import { type OutlinedText, outlineText } from './outlineText.js';

/** White with a dark edge stands out from light and dark pictures alike. */
const STROKE_UNITS = 26;

export function watermarkSvg(size: PixelSize, boxes: readonly Box[], text: string): string {
  const line = drawn(text);
  const marks = placeMarks(size, boxes, line.width / line.height);
  const uses = marks.map((mark) => useOf(mark, line)).join('');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${size.widthPx}" height="${size.heightPx}">`,
    `<defs><path id="m" d="${line.path}" fill="#fff" stroke="#15191b" stroke-width="${STROKE_UNITS}" paint-order="stroke" stroke-linejoin="round"/></defs>`,
    uses,
    '</svg>',
  ].join('');
}

/** A credit in letters the font lacks still gets a mark: the word alone. */
function drawn(text: string): OutlinedText {
  const line = outlineText(text);
  return line.width > 0 && line.missing.length * 2 < text.length ? line : outlineText('proof');
}

function useOf(mark: Mark, line: OutlinedText): string {
  const scale = mark.widthPx / line.width;
  const place = `translate(${fixed(mark.centreX)} ${fixed(mark.centreY)}) rotate(${mark.angleDeg}) scale(${scale.toFixed(5)})`;
  const middle = `translate(${fixed(-line.width / 2)} ${fixed(-line.height / 2)})`;
  return `<g opacity="${mark.opacity}" transform="${place} ${middle}"><use href="#m"/></g>`;
}

const fixed = (value: number): string => value.toFixed(1);
