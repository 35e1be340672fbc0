/** C4 identifiers (SMPTE ST 2114): "c4" and the SHA-512 of the data as a base-58 number of 88 digits; 90 characters. */
const digits = '123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz';
const digitCount = 88;
const digestBytes = 64;

/** C4 id of a 64-byte SHA-512 digest. */
export function c4OfDigest(sha512: Uint8Array): string {
  let value = 0n;
  for (const byte of sha512) value = (value << 8n) | BigInt(byte);
  let text = '';
  for (let place = 0; place < digitCount; place++) {
    text = digits[Number(value % 58n)] + text;
    value /= 58n;
  }
  return `c4${text}`;
}

/** The 64 bytes a C4 id stands for; directory hashes are made of these. */
export function digestOfC4(id: string): Uint8Array {
  let value = 0n;
  for (const digit of id.slice(2)) value = value * 58n + BigInt(digits.indexOf(digit));
  return Uint8Array.from({ length: digestBytes }, (_, index) =>
    Number((value >> BigInt(8 * (digestBytes - 1 - index))) & 0xffn),
  );
}
