/** Three letters that tell a card of ours from other codes that begin alike: fifteen bits of a CRC-32. */
import { crc32OfBytes } from '../../numeric/crc32.js';

/** @param text ASCII, as cards are */
export function checkLetters(text: string): string {
  const bytes = Uint8Array.from(text, (letter) => letter.codePointAt(0)! & 0xff);
  return (Number.parseInt(crc32OfBytes(bytes), 16) % 36 ** 3).toString(36).toUpperCase().padStart(3, '0');
}
