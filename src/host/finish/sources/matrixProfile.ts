/**
 * An ICC profile of three primaries and one gamma, byte by byte: ICC.1:2001-04 (version 2.4), 6.1 header, 6.3.1.3
 * three-component matrix-based input and display profiles, 6.5 curve, text and XYZ types.
 */

export interface MatrixColours {
  readonly name: string;
  readonly gamma: number;
  /** XYZ adapted to D50. */
  readonly red: readonly [number, number, number];
  readonly green: readonly [number, number, number];
  readonly blue: readonly [number, number, number];
}

/** The illuminant of the connection space, 6.1.11. */
const D50 = [0.9642, 1, 0.8249] as const;
const HEADER_BYTES = 128;
const ENTRY_BYTES = 12;

export function matrixProfile({ name, gamma, red, green, blue }: MatrixColours): Buffer {
  const curve = curveType(gamma);
  const tags: readonly (readonly [string, Buffer])[] = [
    ['desc', descriptionType(name)],
    ['cprt', typed('text', Buffer.from('No copyright, use freely\0', 'latin1'))],
    ['wtpt', xyzType(D50)],
    ['rXYZ', xyzType(red)],
    ['gXYZ', xyzType(green)],
    ['bXYZ', xyzType(blue)],
    ['rTRC', curve],
    ['gTRC', curve],
    ['bTRC', curve],
  ];
  const table = Buffer.alloc(4 + tags.length * ENTRY_BYTES);
  table.writeUInt32BE(tags.length, 0);
  let at = HEADER_BYTES + table.length;
  for (const [index, [signature, data]] of tags.entries()) {
    const entry = 4 + index * ENTRY_BYTES;
    table.write(signature, entry, 'latin1');
    table.writeUInt32BE(at, entry + 4);
    table.writeUInt32BE(data.length, entry + 8);
    at += data.length;
  }
  return Buffer.concat([header(at), table, ...tags.map(([, data]) => data)]);
}

function header(bytes: number): Buffer {
  const head = Buffer.alloc(HEADER_BYTES);
  head.writeUInt32BE(bytes, 0);
  head.writeUInt32BE(0x02400000, 8);
  head.write('mntrRGB XYZ ', 12, 'latin1');
  // A fixed date: equal input gives equal bytes.
  for (const [index, part] of [2026, 1, 1, 0, 0, 0].entries()) head.writeUInt16BE(part, 24 + index * 2);
  head.write('acsp', 36, 'latin1');
  xyzNumber(D50).copy(head, 68);
  return head;
}

/** Every type begins with its signature and four zeros, and is padded to four bytes. */
function typed(signature: string, data: Buffer): Buffer {
  const head = Buffer.alloc(8);
  head.write(signature, 0, 'latin1');
  return Buffer.concat([head, data, Buffer.alloc(-data.length & 3)]);
}

const xyzType = (xyz: readonly number[]): Buffer => typed('XYZ ', xyzNumber(xyz));

/** s15Fixed16. */
function xyzNumber(xyz: readonly number[]): Buffer {
  const bytes = Buffer.alloc(12);
  for (const [index, value] of xyz.entries()) bytes.writeInt32BE(Math.round(value * 65536), index * 4);
  return bytes;
}

/** One value is a gamma, as u8Fixed8. */
function curveType(gamma: number): Buffer {
  const data = Buffer.alloc(6);
  data.writeUInt32BE(1, 0);
  data.writeUInt16BE(Math.round(gamma * 256), 4);
  return typed('curv', data);
}

/** In ASCII; the places for other scripts are there and empty. */
function descriptionType(name: string): Buffer {
  const text = Buffer.from(`${name}\0`, 'latin1');
  const data = Buffer.alloc(4 + text.length + 8 + 3 + 67);
  data.writeUInt32BE(text.length, 0);
  text.copy(data, 4);
  return typed('desc', data);
}
