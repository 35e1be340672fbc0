/**
 * The headers a camera writes: Exif (CIPA DC-008) and the multi-picture index (CIPA DC-007), little-endian TIFF inside.
 * Tag numbers and layouts are those of the standards, read through ExifTool's tables.
 */
export type TiffValue =
  | { readonly type: 'ascii'; readonly value: string }
  | { readonly type: 'short' | 'long'; readonly value: readonly number[] }
  /** Pairs of numerator and denominator. */
  | { readonly type: 'rational'; readonly value: readonly (readonly [number, number])[] }
  /** As above, with a sign. */
  | { readonly type: 'signedRational'; readonly value: readonly (readonly [number, number])[] }
  | { readonly type: 'byte' | 'undefined'; readonly value: Buffer };

export type TiffTags = ReadonlyMap<number, TiffValue>;

const TYPE_CODE = { byte: 1, ascii: 2, short: 3, long: 4, rational: 5, undefined: 7, signedRational: 10 } as const;
const TYPE_SIZE = { byte: 1, ascii: 1, short: 2, long: 4, rational: 8, undefined: 1, signedRational: 8 } as const;

function bytesOf(value: TiffValue): Buffer {
  switch (value.type) {
    case 'ascii':
      return Buffer.from(`${value.value}\0`, 'latin1');
    case 'byte':
    case 'undefined':
      return value.value;
    case 'short':
    case 'long': {
      const size = TYPE_SIZE[value.type];
      const out = Buffer.alloc(value.value.length * size);
      for (const [i, n] of value.value.entries()) out.writeUIntLE(n, i * size, size);
      return out;
    }
    case 'rational':
    case 'signedRational': {
      const out = Buffer.alloc(value.value.length * 8);
      for (const [i, n] of value.value.flat().entries()) {
        if (value.type === 'rational') out.writeUInt32LE(n, i * 4);
        else out.writeInt32LE(n, i * 4);
      }
      return out;
    }
  }
}

const evenLength = (length: number): number => length + (length % 2);

/** Bytes an image file directory takes, its long values behind it. */
export const directoryLength = (tags: TiffTags): number =>
  2 +
  tags.size * 12 +
  4 +
  [...tags.values()].map((v) => bytesOf(v).length).reduce((sum, n) => sum + (n > 4 ? evenLength(n) : 0), 0);

/** An image file directory that will stand at `offset` from the TIFF header. */
export function directory(tags: TiffTags, offset: number): Buffer {
  const sorted = [...tags].sort(([a], [b]) => a - b);
  const out = Buffer.alloc(directoryLength(tags));
  out.writeUInt16LE(sorted.length, 0);
  let behind = 2 + sorted.length * 12 + 4;
  for (const [i, [tag, value]] of sorted.entries()) {
    const bytes = bytesOf(value);
    const at = 2 + i * 12;
    out.writeUInt16LE(tag, at);
    out.writeUInt16LE(TYPE_CODE[value.type], at + 2);
    out.writeUInt32LE(bytes.length / TYPE_SIZE[value.type], at + 4);
    if (bytes.length <= 4) {
      bytes.copy(out, at + 8);
      continue;
    }
    out.writeUInt32LE(offset + behind, at + 8);
    bytes.copy(out, behind);
    behind += evenLength(bytes.length);
  }
  return out;
}

export const TIFF_HEADER = Buffer.from([0x49, 0x49, 0x2a, 0, 8, 0, 0, 0]);

export const ascii = (value: string): TiffValue => ({ type: 'ascii', value });
export const short = (...value: number[]): TiffValue => ({ type: 'short', value });
export const long = (...value: number[]): TiffValue => ({ type: 'long', value });
export const rational = (...value: (readonly [number, number])[]): TiffValue => ({ type: 'rational', value });

/** What a body writes about one exposure. */
export interface CameraWords {
  readonly make: string;
  readonly model: string;
  readonly serial: string;
  readonly lens: string;
  /** The body's own clock, `YYYY:MM:DD HH:MM:SS`. */
  readonly time: string;
  /** Decimal fraction of the second, as digits. */
  readonly subSec: string;
  readonly offset: string | null;
  readonly shutterS: number;
  readonly fNumber: number;
  readonly iso: number;
  readonly focalLengthMm: number;
  readonly orientation: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Tags of the first directory, without the pointer to the Exif directory. */
export const imageTags = (words: CameraWords): TiffTags =>
  new Map<number, TiffValue>([
    [0x010f, ascii(words.make)],
    [0x0110, ascii(words.model)],
    [0x0112, short(words.orientation)],
    [0x011a, rational([300, 1])],
    [0x011b, rational([300, 1])],
    [0x0128, short(2)],
    [0x0132, ascii(words.time)],
    [0x0213, short(2)],
  ]);

export function exifTags(words: CameraWords): TiffTags {
  const tags = new Map<number, TiffValue>([
    [0x829a, rational([1, Math.round(1 / words.shutterS)])],
    [0x829d, rational([Math.round(words.fNumber * 10), 10])],
    [0x8822, short(1)],
    [0x8827, short(words.iso)],
    [0x8830, short(2)],
    [0x9000, { type: 'undefined', value: Buffer.from('0232', 'latin1') }],
    [0x9003, ascii(words.time)],
    [0x9004, ascii(words.time)],
    [0x9101, { type: 'undefined', value: Buffer.from([1, 2, 3, 0]) }],
    [0x9204, { type: 'signedRational', value: [[0, 1]] }],
    [0x9207, short(5)],
    [0x9209, short(16)],
    [0x920a, rational([words.focalLengthMm * 10, 10])],
    [0x9290, ascii(words.subSec)],
    [0x9291, ascii(words.subSec)],
    [0x9292, ascii(words.subSec)],
    [0xa000, { type: 'undefined', value: Buffer.from('0100', 'latin1') }],
    [0xa001, short(1)],
    [0xa002, long(words.widthPx)],
    [0xa003, long(words.heightPx)],
    [0xa405, short(words.focalLengthMm)],
    [0xa431, ascii(words.serial)],
    [0xa434, ascii(words.lens)],
  ]);
  if (words.offset !== null) for (const tag of [0x9010, 0x9011, 0x9012]) tags.set(tag, ascii(words.offset));
  return tags;
}

/** A JPEG application segment. */
function segment(marker: number, body: Buffer): Buffer {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
}

export function exifSegment(words: CameraWords): Buffer {
  const first = new Map([...imageTags(words), [0x8769, long(0)] as const]);
  const exifAt = TIFF_HEADER.length + directoryLength(first);
  first.set(0x8769, long(exifAt));
  const tiff = Buffer.concat([TIFF_HEADER, directory(first, TIFF_HEADER.length), directory(exifTags(words), exifAt)]);
  return segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]));
}

/** Where the picture's own segments begin: behind SOI and the JFIF header that the encoder wrote and cameras do not. */
export const afterJfif = (jpeg: Buffer): number =>
  jpeg[2] === 0xff && jpeg[3] === 0xe0 ? 4 + jpeg.readUInt16BE(4) : 2;

/** The JPEG as a camera writes it, with Exif in front. */
export const withExif = (jpeg: Buffer, words: CameraWords): Buffer =>
  Buffer.concat([jpeg.subarray(0, 2), exifSegment(words), jpeg.subarray(afterJfif(jpeg))]);

const MPF_ENTRIES = 16;
const BASELINE_PRIMARY = 0x20030000;
/** "Large thumbnail, VGA". */
const PREVIEW = 0x00010001;

/** The same with a smaller picture behind it and an index that says so. Offsets count from the index's own TIFF header. */
export function withExifAndPreview(jpeg: Buffer, preview: Buffer, words: CameraWords): Buffer {
  const exif = exifSegment(words);
  const rest = jpeg.subarray(afterJfif(jpeg));
  const index = (mainBytes: number, previewOffset: number): Buffer => {
    const entries = Buffer.alloc(2 * MPF_ENTRIES);
    entries.writeUInt32LE(BASELINE_PRIMARY, 0);
    entries.writeUInt32LE(mainBytes, 4);
    entries.writeUInt32LE(PREVIEW, 16);
    entries.writeUInt32LE(preview.length, 20);
    entries.writeUInt32LE(previewOffset, 24);
    const tags = new Map<number, TiffValue>([
      [0xb000, { type: 'undefined', value: Buffer.from('0100', 'latin1') }],
      [0xb001, long(2)],
      [0xb002, { type: 'undefined', value: entries }],
    ]);
    return segment(
      0xe2,
      Buffer.concat([Buffer.from('MPF\0', 'latin1'), TIFF_HEADER, directory(tags, TIFF_HEADER.length)]),
    );
  };
  const mainBytes = 2 + exif.length + index(0, 0).length + rest.length;
  const headerAt = 2 + exif.length + 8;
  return Buffer.concat([jpeg.subarray(0, 2), exif, index(mainBytes, mainBytes - headerAt), rest, preview]);
}
