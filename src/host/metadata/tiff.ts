/**
 * Walks the directories of a TIFF structure, wherever it lies: Exif and MPF segments, maker notes, TIFF-based raws.
 * Only what the Exif reader does not give: where directories and embedded pictures are. Values are returned raw.
 *
 * Source: TIFF Revision 6.0 (Adobe, 1992), section 2: byte order, 42, offset of the first directory; entries of
 * 12 bytes; offsets count from the byte-order mark. Panasonic and Olympus raws write other numbers for the 42.
 */
import type { ByteSource } from './source.js';

export interface TiffBlock {
  readonly source: ByteSource;
  readonly isLittleEndian: boolean;
  readonly firstDirectory: number;
}

export interface Directory {
  /** Unsigned numbers of a tag of type BYTE, SHORT or LONG; none where it is missing or of another type. */
  numbers(tag: number): readonly number[];
  /** Where a tag's value lies in the block and how long it is. */
  place(tag: number): { readonly offset: number; readonly bytes: number } | null;
  /** Offset of the next directory, or 0. */
  readonly next: number;
}

const TYPE_BYTES: Readonly<Record<number, number>> = {
  1: 1,
  2: 1,
  3: 2,
  4: 4,
  5: 8,
  6: 1,
  7: 1,
  8: 2,
  9: 4,
  10: 8,
  11: 4,
  12: 8,
  13: 4,
};
const TIFF_NUMBERS = new Set([0x2a, 0x55, 0x4f52, 0x5352]);
/** More than any camera writes; a damaged count must not make us read megabytes. */
const MOST_ENTRIES = 1000;
const MOST_NUMBERS = 4096;

/** The block that begins at the source's first byte, or null where it is no TIFF structure. */
export const openTiff = async (source: ByteSource): Promise<TiffBlock | null> => {
  const header = await source.read(0, 8);
  if (header.length < 8) return null;
  const order = header.toString('latin1', 0, 2);
  if (order !== 'II' && order !== 'MM') return null;
  const isLittleEndian = order === 'II';
  const number = isLittleEndian ? header.readUInt16LE(2) : header.readUInt16BE(2);
  if (!TIFF_NUMBERS.has(number)) return null;
  return { source, isLittleEndian, firstDirectory: isLittleEndian ? header.readUInt32LE(4) : header.readUInt32BE(4) };
};

interface Entry {
  readonly type: number;
  readonly count: number;
  readonly valueOffset: number;
}

/** The directory at `offset`, or null where none can lie there. */
export const readDirectory = async (block: TiffBlock, offset: number): Promise<Directory | null> => {
  const u16 = (buffer: Buffer, at: number) =>
    block.isLittleEndian ? buffer.readUInt16LE(at) : buffer.readUInt16BE(at);
  const u32 = (buffer: Buffer, at: number) =>
    block.isLittleEndian ? buffer.readUInt32LE(at) : buffer.readUInt32BE(at);
  const counted = await block.source.read(offset, 2);
  if (offset < 8 || counted.length < 2) return null;
  const count = u16(counted, 0);
  if (count === 0 || count > MOST_ENTRIES) return null;
  const table = await block.source.read(offset + 2, count * 12 + 4);
  const entries = new Map<number, Entry>();
  for (let at = 0; at + 12 <= table.length && at < count * 12; at += 12) {
    const type = u16(table, at + 2);
    const values = u32(table, at + 4);
    const isInline = values * (TYPE_BYTES[type] ?? 1) <= 4;
    entries.set(u16(table, at), {
      type,
      count: values,
      valueOffset: isInline ? offset + 2 + at + 8 : u32(table, at + 8),
    });
  }
  const values = await readNumbers(block, entries, u16, u32);
  return {
    numbers: (tag) => values.get(tag) ?? [],
    place: (tag) => {
      const entry = entries.get(tag);
      return entry === undefined
        ? null
        : { offset: entry.valueOffset, bytes: entry.count * (TYPE_BYTES[entry.type] ?? 1) };
    },
    next: table.length >= count * 12 + 4 ? u32(table, count * 12) : 0,
  };
};

const readNumbers = async (
  block: TiffBlock,
  entries: ReadonlyMap<number, Entry>,
  u16: (buffer: Buffer, at: number) => number,
  u32: (buffer: Buffer, at: number) => number,
): Promise<ReadonlyMap<number, readonly number[]>> => {
  const values = new Map<number, readonly number[]>();
  for (const [tag, entry] of entries) {
    const width = TYPE_BYTES[entry.type] ?? 0;
    const isNumber = entry.type === 1 || entry.type === 3 || entry.type === 4 || entry.type === 13;
    if (!isNumber || entry.count > MOST_NUMBERS) continue;
    const bytes = await block.source.read(entry.valueOffset, entry.count * width);
    if (bytes.length < entry.count * width) continue;
    const read = (index: number) =>
      width === 1 ? bytes.readUInt8(index) : width === 2 ? u16(bytes, index * 2) : u32(bytes, index * 4);
    values.set(
      tag,
      Array.from({ length: entry.count }, (_, index) => read(index)),
    );
  }
  return values;
};
