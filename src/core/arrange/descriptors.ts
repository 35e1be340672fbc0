/** Descriptors: int8 base64 → one matrix of unit rows for all bikes of the day. */

const ALPHABET = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const SEXTETS = (() => {
  const table = new Int16Array(128).fill(-1);
  for (let i = 0; i < 64; i++) table[ALPHABET.charCodeAt(i)] = i;
  return table;
})();

/** Number of bytes in base64 text; core has neither Buffer nor atob. */
export function base64Length(text: string): number {
  const padding = text.endsWith('==') ? 2 : text.endsWith('=') ? 1 : 0;
  return Math.floor((text.length * 3) / 4) - padding;
}

/** Decodes int8 values (RFC 4648, section 4) into `into` from `at`, unit length; zeros where there is nothing to read. */
export function readDescriptor(text: string, into: Float32Array, at: number, dimensions: number): void {
  let out = at;
  const end = at + dimensions;
  let buffer = 0;
  let bits = 0;
  let energy = 0;
  for (let i = 0; i < text.length && out < end; i++) {
    const sextet = SEXTETS[text.charCodeAt(i)] ?? -1;
    if (sextet < 0) continue;
    buffer = ((buffer << 6) | sextet) & 0xffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    const value = ((buffer >> bits) << 24) >> 24;
    into[out++] = value;
    energy += value * value;
  }
  const scale = energy === 0 ? 0 : 1 / Math.sqrt(energy);
  for (let i = at; i < end; i++) into[i] = into[i]! * scale;
}

/** Rows scaled to unit length in place; a zero row stays zero. */
export function normaliseRows(matrix: Float32Array, dimensions: number): void {
  for (let at = 0; at < matrix.length; at += dimensions) {
    let energy = 0;
    for (let k = at; k < at + dimensions; k++) energy += matrix[k]! * matrix[k]!;
    if (energy === 0) continue;
    const scale = 1 / Math.sqrt(energy);
    for (let k = at; k < at + dimensions; k++) matrix[k] = matrix[k]! * scale;
  }
}

export function dotRows(a: Float32Array, i: number, b: Float32Array, j: number, dimensions: number): number {
  let sum = 0;
  const ia = i * dimensions;
  const jb = j * dimensions;
  for (let k = 0; k < dimensions; k++) sum += a[ia + k]! * b[jb + k]!;
  return sum;
}
