/**
 * UTF-8 (RFC 3629) and base64url (RFC 4648, section 5, without padding) by hand: the core has neither an encoder nor a buffer.
 */

/** A lone surrogate becomes U+FFFD, as encoders do. */
export function encodeUtf8(text: string): Uint8Array {
  const bytes: number[] = [];
  for (const letter of text) {
    const found = letter.codePointAt(0)!;
    const point = found >= 0xd800 && found <= 0xdfff ? 0xfffd : found;
    if (point < 0x80) bytes.push(point);
    else if (point < 0x800) bytes.push(0xc0 | (point >> 6), tail(point));
    else if (point < 0x10000) bytes.push(0xe0 | (point >> 12), tail(point >> 6), tail(point));
    else bytes.push(0xf0 | (point >> 18), tail(point >> 12), tail(point >> 6), tail(point));
  }
  return Uint8Array.from(bytes);
}

const tail = (bits: number): number => 0x80 | (bits & 0x3f);

/** Null where the bytes are not UTF-8: overlong, cut off, a surrogate or above U+10FFFF. */
export function decodeUtf8(bytes: Uint8Array): string | null {
  let text = '';
  for (let at = 0; at < bytes.length; ) {
    const first = bytes[at]!;
    const more = first < 0x80 ? 0 : first >= 0xf0 ? 3 : first >= 0xe0 ? 2 : first >= 0xc0 ? 1 : -1;
    if (more < 0 || at + more >= bytes.length) return null;
    let point = more === 0 ? first : first & (0x3f >> more);
    for (let next = 1; next <= more; next += 1) {
      const byte = bytes[at + next]!;
      if ((byte & 0xc0) !== 0x80) return null;
      point = (point << 6) | (byte & 0x3f);
    }
    if (point < LEAST_POINT[more]! || point > 0x10ffff || (point >= 0xd800 && point <= 0xdfff)) return null;
    text += String.fromCodePoint(point);
    at += more + 1;
  }
  return text;
}

/** The least code point that needs so many bytes more; below it a form is overlong. */
const LEAST_POINT = [0, 0x80, 0x800, 0x10000];

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_';
const VALUES: ReadonlyMap<string, number> = new Map([...ALPHABET].map((letter, value) => [letter, value]));

export function toBase64Url(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += 3) {
    const three = (bytes[at]! << 16) | ((bytes[at + 1] ?? 0) << 8) | (bytes[at + 2] ?? 0);
    const letters = Math.min(4, bytes.length - at + 1);
    for (let letter = 0; letter < letters; letter += 1) text += ALPHABET[(three >> (18 - 6 * letter)) & 63];
  }
  return text;
}

/** Null where a letter is none of the alphabet, or the length or the last bits cannot be. */
export function fromBase64Url(text: string): Uint8Array | null {
  if (text.length % 4 === 1) return null;
  const bytes = new Uint8Array(Math.floor((text.length * 3) / 4));
  let held = 0;
  let bits = 0;
  let to = 0;
  for (const letter of text) {
    const value = VALUES.get(letter);
    if (value === undefined) return null;
    held = ((held << 6) | value) & 0xffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    bytes[to] = (held >> bits) & 0xff;
    to += 1;
  }
  return (held & ((1 << bits) - 1)) === 0 ? bytes : null;
}
