/** Capture time, body and the embedded JPEG of raw files that are built like a TIFF, and of those that hold a whole JPEG. */
import { type ExifFields, type ExifReading, NOTHING_RECORDED, readExif } from './exif.js';
import { readJpegHeader } from './jpegHeader.js';
import type { Recognised } from './mediaKind.js';
import { readNikonSerial } from './nikonSerial.js';
import { type EmbeddedPicture, previewsOfTiff, walkDirectories } from './previews.js';
import { type ByteSource, offsetSource } from './source.js';
import { openTiff, type TiffBlock } from './tiff.js';

export interface RawReading {
  readonly exif: ExifFields;
  /** Of the developed frame as the file's directories say it, or of the preview. */
  readonly size: { readonly widthPx: number; readonly heightPx: number } | null;
  readonly preview: EmbeddedPicture | null;
  readonly notes: readonly string[];
}

/** Directories of a raw lie in its beginning; none seen needed more. */
const DIRECTORY_BYTES = 1024 * 1024;

export const readRaw = async (source: ByteSource, layout: Recognised['layout']): Promise<RawReading> => {
  if (layout === 'raf') return readRaf(source);
  const block = layout === 'tiff' ? await openTiff(source) : null;
  return block === null ? unknownRaw() : readTiffRaw(source, block);
};

const unknownRaw = (): RawReading => ({
  exif: { ...NOTHING_RECORDED, captured: { kind: 'absent', reason: 'unreadable' } },
  size: null,
  preview: null,
  notes: [
    'This kind of raw file is copied and kept, but its time and picture cannot be read here. Let the camera write JPEGs beside it.',
  ],
});

const readTiffRaw = async (source: ByteSource, block: TiffBlock): Promise<RawReading> => {
  const exif = readExif(await exifBytes(source));
  const serial = await nikonSerial(source, exif);
  const preview = await previewsOfTiff(source, block);
  return {
    exif: serial === undefined ? exif.fields : { ...exif.fields, body: { ...exif.fields.body, serial } },
    size: (await mainSize(block)) ?? preview,
    preview,
    notes: preview === null ? [...exif.notes, NO_PREVIEW] : exif.notes,
  };
};

const NO_PREVIEW =
  'This raw file holds no JPEG preview, so it cannot be measured here. Let the camera write JPEGs beside it.';

/** Some makers write another number for the TIFF's 42; for the reader it is put right in a copy. */
const exifBytes = async (source: ByteSource): Promise<Buffer> => {
  const bytes = Buffer.from(await source.read(0, DIRECTORY_BYTES));
  if (bytes[0] === 0x49) bytes.writeUInt16LE(0x2a, 2);
  else bytes.writeUInt16BE(0x2a, 2);
  return bytes;
};

const nikonSerial = async (source: ByteSource, exif: ExifReading): Promise<string | undefined> => {
  const { make, serial } = exif.fields.body;
  return serial ?? (/nikon/i.test(make ?? '') ? readNikonSerial(source, 0) : undefined);
};

/** The size of the directory that says it holds the full picture (00FE is 0), or else the largest given (0100, 0101). */
const mainSize = async (block: TiffBlock): Promise<RawReading['size']> => {
  let best: { widthPx: number; heightPx: number; isFull: boolean } | null = null;
  for await (const directory of walkDirectories(block)) {
    const [widthPx = 0] = directory.numbers(0x0100);
    const [heightPx = 0] = directory.numbers(0x0101);
    const isFull = directory.numbers(0x00fe)[0] === 0;
    if (widthPx === 0 || heightPx === 0 || (best?.isFull && !isFull)) continue;
    if (best === null || (isFull && !best.isFull) || widthPx * heightPx > best.widthPx * best.heightPx) {
      best = { widthPx, heightPx, isFull };
    }
  }
  return best === null ? null : { widthPx: best.widthPx, heightPx: best.heightPx };
};

/** Fujifilm's raw begins with its own header: offset and length of a whole JPEG with Exif at 84 and 88, big-endian. */
const readRaf = async (source: ByteSource): Promise<RawReading> => {
  const place = await source.read(84, 8);
  const offset = place.length === 8 ? place.readUInt32BE(0) : 0;
  const bytes = place.length === 8 ? place.readUInt32BE(4) : 0;
  const inner = offsetSource(source, offset);
  const header = offset > 0 && offset + bytes <= source.size ? await readJpegHeader(inner) : null;
  if (header === null || header.size === null) return unknownRaw();
  const exif = readExif(await inner.read(0, header.endsAt));
  return { exif: exif.fields, size: header.size, preview: { ...header.size, offset, bytes }, notes: exif.notes };
};
