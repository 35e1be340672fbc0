/**
 * The body's serial number where older Nikons keep it: in the maker note, tag 001D. Newer ones write Exif A431.
 * The layout ("Nikon\0", version, then a TIFF structure of its own 10 bytes in) is that described in ExifTool's Nikon.pm.
 */
import { type ByteSource, offsetSource } from './source.js';
import { openTiff, readDirectory, type TiffBlock } from './tiff.js';

const EXIF_DIRECTORY = 0x8769;
const MAKER_NOTE = 0x927c;
const SERIAL = 0x001d;
const LONGEST_SERIAL = 64;

/** `exifAt`: offset of the Exif TIFF structure in the file. Undefined where there is none. */
export const readNikonSerial = async (source: ByteSource, exifAt: number): Promise<string | undefined> => {
  const block = await openTiff(offsetSource(source, exifAt));
  const note = block === null ? null : await makerNotePlace(block);
  if (block === null || note === null) return undefined;
  const opening = await block.source.read(note.offset, 6);
  if (opening.toString('latin1') !== 'Nikon\0') return undefined;
  const inner = await openTiff(offsetSource(block.source, note.offset + 10));
  const place = inner === null ? null : ((await readDirectory(inner, inner.firstDirectory))?.place(SERIAL) ?? null);
  if (inner === null || place === null || place.bytes > LONGEST_SERIAL) return undefined;
  const [serial = ''] = (await inner.source.read(place.offset, place.bytes)).toString('latin1').split('\0');
  return /[1-9]/.test(serial) ? serial.trim() : undefined;
};

const makerNotePlace = async (block: TiffBlock) => {
  const first = await readDirectory(block, block.firstDirectory);
  const [exifOffset = 0] = first?.numbers(EXIF_DIRECTORY) ?? [];
  return (await readDirectory(block, exifOffset))?.place(MAKER_NOTE) ?? null;
};
