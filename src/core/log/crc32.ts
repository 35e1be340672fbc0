/**
 * CRC-32 of a line's UTF-8 bytes, to notice a line that was torn by a power cut or damaged on a disk.
 */
import { CRC32_TABLE as TABLE } from '../numeric/crc32.js';

const step = (state: number, byte: number): number => (state >>> 8) ^ (TABLE[(state ^ byte) & 0xff] as number);

/** UTF-8 by hand: core has neither TextEncoder nor Buffer. A lone surrogate becomes U+FFFD, as encoders do. */
function stepCodePoint(state: number, codePoint: number): number {
  const point = codePoint >= 0xd800 && codePoint <= 0xdfff ? 0xfffd : codePoint;
  if (point < 0x800) return step(step(state, 0xc0 | (point >> 6)), 0x80 | (point & 0x3f));
  const tail = 0x80 | (point & 0x3f);
  const middle = 0x80 | ((point >> 6) & 0x3f);
  if (point < 0x10000) return step(step(step(state, 0xe0 | (point >> 12)), middle), tail);
  return step(step(step(step(state, 0xf0 | (point >> 18)), 0x80 | ((point >> 12) & 0x3f)), middle), tail);
}

/** CRC-32 of the text's UTF-8 bytes as eight lower-case hex digits. */
export function crc32Of(text: string): string {
  let state = -1;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    if (unit < 0x80) {
      state = (state >>> 8) ^ (TABLE[(state ^ unit) & 0xff] as number);
    } else {
      const point = text.codePointAt(i) as number;
      if (point > 0xffff) i++;
      state = stepCodePoint(state, point);
    }
  }
  return (~state >>> 0).toString(16).padStart(8, '0');
}
