/**
 * A zip whose every byte is known before the first is sent, so that it can be resumed at any place and needs no temporary file: pictures
 * are stored as they are, with a fixed time and with their CRC-32 said ahead. By the ZIP file format specification (APPNOTE.TXT
 * 6.3.10): local header 4.3.7, central header 4.3.12, zip64 ends 4.3.14 and 4.3.15, end 4.3.16, zip64 extra field 4.5.3,
 * UTF-8 names by bit 11 of the flags (4.4.4, appendix D). Left out: encryption, compression, data descriptors, several disks.
 */
import { createHash } from 'node:crypto';

export interface ZipEntry {
  /** `/` between folders; must not be another's. */
  readonly name: string;
  readonly bytes: number;
  readonly crc32: number;
  /** Of its bytes, as hex. */
  readonly sha256: string;
  readonly from: { readonly path: string } | { readonly content: Buffer };
}

/** What follows one another in the file. */
export type ZipPart = { readonly at: number; readonly bytes: number } & ZipEntry['from'];

export interface ZipLayout {
  readonly bytes: number;
  readonly parts: readonly ZipPart[];
  /** Says the same for the same bytes: of names and of what is in them. Hex. */
  readonly digest: string;
}

const MOST_32 = 0xffff_ffff;
const MOST_16 = 0xffff;
const UTF8_NAMES = 1 << 11;
/** 2.0 for folders, 4.5 for zip64 (4.4.3.2). */
const PLAIN = 20;
const ZIP64 = 45;
/** Made on Unix (3), so that the mode of the file counts: a regular file, everyone may read. */
const MADE_ON_UNIX = 3 << 8;
const MODE = 0o100644 << 16;
/** 1980-01-01 00:00, the first time MS-DOS knows (4.4.6): another would be the machine's zone. */
const NO_TIME = 0;
const FIRST_DAY = 0x21;

export function zipLayout(entries: readonly ZipEntry[]): ZipLayout {
  const parts: ZipPart[] = [];
  let at = 0;
  const add = (bytes: number, from: ZipEntry['from']) => {
    parts.push({ at, bytes, ...from });
    at += bytes;
  };
  const addBytes = (content: Buffer) => add(content.length, { content });
  const central = entries.map((entry) => {
    const start = at;
    addBytes(localHeader(entry));
    add(entry.bytes, entry.from);
    return centralHeader(entry, start);
  });
  const start = at;
  const directory = Buffer.concat(central);
  addBytes(directory);
  addBytes(endOf(entries.length, start, directory.length));
  return { bytes: at, parts, digest: digestOf(entries) };
}

function localHeader({ name, bytes, crc32 }: ZipEntry): Buffer {
  const nameBytes = Buffer.from(name);
  const isLarge = bytes >= MOST_32;
  // In a local header both sizes are there or neither (4.5.3).
  const extra = isLarge ? zip64Extra([bytes, bytes]) : Buffer.alloc(0);
  const header = Buffer.alloc(30);
  header.writeUInt32LE(0x04034b50, 0);
  header.writeUInt16LE(isLarge ? ZIP64 : PLAIN, 4);
  commonFields(header, 6, crc32, isLarge ? MOST_32 : bytes, nameBytes.length, extra.length);
  return Buffer.concat([header, nameBytes, extra]);
}

function centralHeader({ name, bytes, crc32 }: ZipEntry, offset: number): Buffer {
  const nameBytes = Buffer.from(name);
  const large = [...(bytes >= MOST_32 ? [bytes, bytes] : []), ...(offset >= MOST_32 ? [offset] : [])];
  const extra = large.length > 0 ? zip64Extra(large) : Buffer.alloc(0);
  const needed = large.length > 0 ? ZIP64 : PLAIN;
  const header = Buffer.alloc(46);
  header.writeUInt32LE(0x02014b50, 0);
  header.writeUInt16LE(MADE_ON_UNIX | ZIP64, 4);
  header.writeUInt16LE(needed, 6);
  commonFields(header, 8, crc32, Math.min(bytes, MOST_32), nameBytes.length, extra.length);
  header.writeUInt32LE(MODE >>> 0, 38);
  header.writeUInt32LE(Math.min(offset, MOST_32), 42);
  return Buffer.concat([header, nameBytes, extra]);
}

/** From the flags to the extra field's length, the same in both headers. */
function commonFields(header: Buffer, at: number, crc32: number, size: number, name: number, extra: number): void {
  header.writeUInt16LE(UTF8_NAMES, at);
  // Method 0: stored. Pictures are compressed already.
  header.writeUInt16LE(0, at + 2);
  header.writeUInt16LE(NO_TIME, at + 4);
  header.writeUInt16LE(FIRST_DAY, at + 6);
  header.writeUInt32LE(crc32, at + 8);
  header.writeUInt32LE(size, at + 12);
  header.writeUInt32LE(size, at + 16);
  header.writeUInt16LE(name, at + 20);
  header.writeUInt16LE(extra, at + 22);
}

function zip64Extra(values: readonly number[]): Buffer {
  const extra = Buffer.alloc(4 + 8 * values.length);
  extra.writeUInt16LE(1, 0);
  extra.writeUInt16LE(8 * values.length, 2);
  for (const [i, value] of values.entries()) extra.writeBigUInt64LE(BigInt(value), 4 + 8 * i);
  return extra;
}

function endOf(entries: number, start: number, bytes: number): Buffer {
  const isLarge = entries >= MOST_16 || start >= MOST_32 || bytes >= MOST_32;
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(Math.min(entries, MOST_16), 8);
  end.writeUInt16LE(Math.min(entries, MOST_16), 10);
  end.writeUInt32LE(Math.min(bytes, MOST_32), 12);
  end.writeUInt32LE(Math.min(start, MOST_32), 16);
  return isLarge ? Buffer.concat([zip64End(entries, start, bytes), zip64Locator(start + bytes), end]) : end;
}

function zip64End(entries: number, start: number, bytes: number): Buffer {
  const end = Buffer.alloc(56);
  end.writeUInt32LE(0x06064b50, 0);
  // Its own length without the twelve bytes up to here (4.3.14.1).
  end.writeBigUInt64LE(44n, 4);
  end.writeUInt16LE(MADE_ON_UNIX | ZIP64, 12);
  end.writeUInt16LE(ZIP64, 14);
  end.writeBigUInt64LE(BigInt(entries), 24);
  end.writeBigUInt64LE(BigInt(entries), 32);
  end.writeBigUInt64LE(BigInt(bytes), 40);
  end.writeBigUInt64LE(BigInt(start), 48);
  return end;
}

function zip64Locator(endAt: number): Buffer {
  const locator = Buffer.alloc(20);
  locator.writeUInt32LE(0x07064b50, 0);
  locator.writeBigUInt64LE(BigInt(endAt), 8);
  locator.writeUInt32LE(1, 16);
  return locator;
}

/** Raised when the same entries come to other bytes. */
const LAYOUT_VERSION = 1;

function digestOf(entries: readonly ZipEntry[]): string {
  const said = JSON.stringify([LAYOUT_VERSION, ...entries.map(({ name, sha256 }) => [name, sha256])]);
  return createHash('sha256').update(said).digest('hex').slice(0, 32);
}
