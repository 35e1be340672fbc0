/**
 * The index of a multi-picture file: pictures that stand behind the main one, among them the large preview.
 *
 * Source: CIPA DC-007 (2009) 5.2: version B000, count B001, entries B002 of 16 bytes: attribute, size, offset, two
 * dependents. Offsets count from the MPF segment's TIFF header; the first picture's is 0, for it begins at SOI.
 * Type = attribute & FFFFFF: 030000 baseline primary; 010001 VGA, 010002 Full HD, 010003 4K, 010004 8K preview.
 * Not used here: panorama, disparity and multi-angle pictures (02xxxx), originals and gain maps (04…, 05…).
 */

import { type ByteSource, offsetSource } from './source.js';
import { openTiff, readDirectory } from './tiff.js';

export interface MpfPicture {
  readonly isPreview: boolean;
  /** From the beginning of the file. */
  readonly offset: number;
  readonly bytes: number;
}

export type MpfIndex =
  | { readonly kind: 'index'; readonly pictures: readonly MpfPicture[] }
  | { readonly kind: 'unreadable' };

const ENTRY_BYTES = 16;
const MOST_PICTURES = 64;

/** `mpfAt`: offset of the segment's TIFF header in the file. Entries are as written; nothing is checked against the file. */
export const readMpfIndex = async (source: ByteSource, mpfAt: number): Promise<MpfIndex> => {
  const block = await openTiff(offsetSource(source, mpfAt));
  const directory = block === null ? null : await readDirectory(block, block.firstDirectory);
  const place = directory?.place(0xb002) ?? null;
  if (block === null || place === null || place.bytes < ENTRY_BYTES) return { kind: 'unreadable' };
  const entries = await block.source.read(place.offset, Math.min(place.bytes, ENTRY_BYTES * MOST_PICTURES));
  const u32 = (at: number) => (block.isLittleEndian ? entries.readUInt32LE(at) : entries.readUInt32BE(at));
  const pictures: MpfPicture[] = [];
  for (let at = 0; at + ENTRY_BYTES <= entries.length; at += ENTRY_BYTES) {
    const type = u32(at) & 0xffffff;
    const offset = u32(at + 8);
    pictures.push({
      isPreview: type >> 16 === 0x01,
      offset: offset === 0 ? 0 : mpfAt + offset,
      bytes: u32(at + 4),
    });
  }
  return { kind: 'index', pictures };
};
