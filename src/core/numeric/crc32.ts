/**
 * CRC-32, to notice what was damaged on its way.
 * Source: ISO-HDLC polynomial 0x04C11DB7 in its reflected form 0xEDB88320 (ISO/IEC 13239; PNG specification, annex D).
 * Check value of the published catalogues: "123456789" gives cbf43926. It protects against accidents, not against people.
 */
const REFLECTED_POLYNOMIAL = 0xedb88320;

/** What one byte does to the state's lowest eight bits. */
export const CRC32_TABLE = Int32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte;
  for (let bit = 0; bit < 8; bit++) {
    remainder = remainder & 1 ? (remainder >>> 1) ^ REFLECTED_POLYNOMIAL : remainder >>> 1;
  }
  return remainder;
});

/** Eight lower-case hex digits. */
export function crc32OfBytes(bytes: Uint8Array): string {
  let state = -1;
  for (const byte of bytes) state = (state >>> 8) ^ (CRC32_TABLE[(state ^ byte) & 0xff] as number);
  return (~state >>> 0).toString(16).padStart(8, '0');
}
