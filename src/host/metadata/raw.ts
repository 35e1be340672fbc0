/** Capture time, body and the embedded JPEG of raw files that are built like a TIFF, and of those that hold a whole JPEG. */
import { type ExifFields, type ExifReading, NOTHING_RECORDED, readExif } from './exif.js';
import { readJpegHeader } from './jpegHeader.js';
import type { Recognised } from './mediaKind.js';
import { readNikonSerial } from './nikonSerial.js';
import { type EmbeddedPicture, previewsOfTiff } from './previews.js';
import { type ByteSource, offsetSource } from './source.js';
import { openTiff, readDirectory, type TiffBlock } from './tiff.js';

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

/** The largest size that a directory gives (tags 0100 and 0101). */
const mainSize = async (block: TiffBlock): Promise<RawReading['size']> => {
  let best: { widthPx: number; heightPx: number } | null = null;
  const first = await readDirectory(block, block.firstDirectory);
  const offsets = [block.firstDirectory, ...(first?.numbers(0x014a) ?? [])];
  for (const offset of offsets) {
    const directory = await readDirectory(block, offset);
    const [widthPx = 0] = directory?.numbers(0x0100) ?? [];
    const [heightPx = 0] = directory?.numbers(0x0101) ?? [];
    if (widthPx > 0 && heightPx > 0 && widthPx * heightPx > (best?.widthPx ?? 0) * (best?.heightPx ?? 0)) {
      best = { widthPx, heightPx };
    }
  }
  return best;
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
