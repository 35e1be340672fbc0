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
  const end = at + dimensions;
  const { out, rest } = readQuads(text, into, at, end);
  readSlowly(text, rest, into, out, end);
  let energy = 0;
  for (let i = at; i < end; i++) energy += into[i]! * into[i]!;
  const scale = energy === 0 ? 0 : 1 / Math.sqrt(energy);
  for (let i = at; i < end; i++) into[i] = into[i]! * scale;
}

/** Four letters, three bytes, as long as all are letters of the alphabet. */
function readQuads(text: string, into: Float32Array, at: number, end: number): { out: number; rest: number } {
  let out = at;
  let i = 0;
  for (; i + 3 < text.length && out + 2 < end; i += 4) {
    const bits =
      (sextetAt(text, i) << 18) | (sextetAt(text, i + 1) << 12) | (sextetAt(text, i + 2) << 6) | sextetAt(text, i + 3);
    if (bits < 0) break;
    into[out] = (bits << 8) >> 24;
    into[out + 1] = (bits << 16) >> 24;
    into[out + 2] = (bits << 24) >> 24;
    out += 3;
  }
  return { out, rest: i };
}

/** −1 for what is no letter of the alphabet. */
function sextetAt(text: string, i: number): number {
  const code = text.charCodeAt(i);
  return code < 128 ? SEXTETS[code]! : -1;
}

function readSlowly(text: string, from: number, into: Float32Array, at: number, end: number): void {
  let out = at;
  let buffer = 0;
  let bits = 0;
  for (let i = from; i < text.length && out < end; i++) {
    const sextet = sextetAt(text, i);
    if (sextet < 0) continue;
    buffer = ((buffer << 6) | sextet) & 0xffff;
    bits += 6;
    if (bits < 8) continue;
    bits -= 8;
    into[out++] = ((buffer >> bits) << 24) >> 24;
  }
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

/**
 * Row `i` of `a` with each of the rows `among` of `b`. Four sums at a time: one alone waits for itself at every step.
 * Each is added up in the order of {@link dotRows}, so that both give the same number.
 */
export function dotRowWithMany(
  a: Float32Array,
  i: number,
  b: Float32Array,
  among: ArrayLike<number>,
  dimensions: number,
  into: Float32Array | Float64Array,
): void {
  const ia = i * dimensions;
  const whole = among.length - (among.length % 4);
  for (let m = 0; m < whole; m += 4) {
    const [b0, b1, b2, b3] = [
      among[m]! * dimensions,
      among[m + 1]! * dimensions,
      among[m + 2]! * dimensions,
      among[m + 3]! * dimensions,
    ];
    let [s0, s1, s2, s3] = [0, 0, 0, 0];
    for (let k = 0; k < dimensions; k++) {
      const own = a[ia + k]!;
      s0 += own * b[b0 + k]!;
      s1 += own * b[b1 + k]!;
      s2 += own * b[b2 + k]!;
      s3 += own * b[b3 + k]!;
    }
    into[m] = s0;
    into[m + 1] = s1;
    into[m + 2] = s2;
    into[m + 3] = s3;
  }
  for (let m = whole; m < among.length; m++) into[m] = dotRows(a, i, b, among[m]!, dimensions);
}
