/** The segments before a JPEG's first scan: where Exif and MPF lie, and the picture's size. Source: ITU-T T.81 annex B. */
import type { ByteSource } from './source.js';

export interface JpegHeader {
  /** As coded, before any orientation. Null where the file ends or breaks before saying it. */
  readonly size: { readonly widthPx: number; readonly heightPx: number } | null;
  /** Offset of the TIFF structure inside the Exif segment. */
  readonly exifAt: number | null;
  /** Offset of the TIFF structure inside the MPF segment; MPF's own offsets count from here. */
  readonly mpfAt: number | null;
  /** Where the header ends: at the first scan, or where nothing more could be read. */
  readonly endsAt: number;
}

/** A header longer than this is no camera's. */
const LONGEST_HEADER = 32 * 1024 * 1024;

/** Null where the source does not begin with a JPEG's start marker. */
export const readJpegHeader = async (source: ByteSource, start = 0): Promise<JpegHeader | null> => {
  const opening = await source.read(start, 2);
  if (opening.length < 2 || opening.readUInt16BE(0) !== 0xffd8) return null;
  let size: JpegHeader['size'] = null;
  let exifAt: number | null = null;
  let mpfAt: number | null = null;
  let at = start + 2;
  while (at < start + LONGEST_HEADER) {
    const segment = await readSegment(source, at);
    if (segment === null || segment.marker === 0xda || segment.marker === 0xd9) break;
    if (isFrameHeader(segment.marker) && size === null) size = await readSize(source, segment.dataAt);
    if (segment.marker === 0xe1 && exifAt === null && segment.opening.startsWith('Exif\0')) exifAt = segment.dataAt + 6;
    if (segment.marker === 0xe2 && mpfAt === null && segment.opening.startsWith('MPF\0')) mpfAt = segment.dataAt + 4;
    at = segment.dataAt + segment.dataBytes;
  }
  return { size, exifAt, mpfAt, endsAt: at };
};

interface Segment {
  readonly marker: number;
  readonly dataAt: number;
  readonly dataBytes: number;
  readonly opening: string;
}

const readSegment = async (source: ByteSource, from: number): Promise<Segment | null> => {
  let at = from;
  let bytes = await source.read(at, 12);
  // Any number of FF may stand before a marker.
  while (bytes.length >= 4 && bytes[0] === 0xff && bytes[1] === 0xff) {
    at += 1;
    bytes = await source.read(at, 12);
  }
  if (bytes.length < 4 || bytes[0] !== 0xff) return null;
  const length = bytes.readUInt16BE(2);
  if (length < 2) return null;
  return { marker: bytes[1] as number, dataAt: at + 4, dataBytes: length - 2, opening: bytes.toString('latin1', 4) };
};

/** SOF0–SOF15 without DHT (C4), JPG (C8) and DAC (CC). */
const isFrameHeader = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;

const readSize = async (source: ByteSource, at: number): Promise<JpegHeader['size']> => {
  const bytes = await source.read(at, 5);
  if (bytes.length < 5) return null;
  const heightPx = bytes.readUInt16BE(1);
  const widthPx = bytes.readUInt16BE(3);
  return widthPx > 0 && heightPx > 0 ? { widthPx, heightPx } : null;
};
