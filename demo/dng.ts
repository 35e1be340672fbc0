/**
 * A minimal raw picture: DNG 1.4 with an RGB preview as JPEG and an uncompressed 16-bit mosaic behind it
 * (tags as in Adobe's "Digital Negative (DNG) Specification" 1.4.0.0, read through ExifTool's tables).
 */
import {
  ascii,
  type CameraWords,
  directory,
  directoryLength,
  exifTags,
  imageTags,
  long,
  rational,
  short,
  TIFF_HEADER,
  type TiffTags,
  type TiffValue,
} from './exif.js';

export interface RawSource {
  /** 8-bit RGB as the sensor saw it, three bytes a pixel; width and height even. */
  readonly pixels: Buffer;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly preview: Buffer;
  readonly previewWidthPx: number;
  readonly previewHeightPx: number;
}

const WHITE_LEVEL = 16383;
const byte = (...values: number[]): TiffValue => ({ type: 'byte', value: Buffer.from(values) });

/** One colour a pixel, red-green / green-blue, in linear light. */
function mosaic({ pixels, widthPx, heightPx }: RawSource): Buffer {
  const out = Buffer.alloc(widthPx * heightPx * 2);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const channel = (x % 2) + (y % 2);
      const v = pixels[(y * widthPx + x) * 3 + channel]! / 255;
      out.writeUInt16LE(Math.round(v * v * WHITE_LEVEL), (y * widthPx + x) * 2);
    }
  return out;
}

/** Preview in the first directory, the mosaic in a sub-directory, the exposure in an Exif directory. */
export function dngOf(source: RawSource, words: CameraWords): Buffer {
  const raw = mosaic(source);
  const previewTags = (exifAt: number, rawAt: number, previewAt: number): TiffTags =>
    new Map<number, TiffValue>([
      ...imageTags(words),
      [0x00fe, long(1)],
      [0x0100, long(source.previewWidthPx)],
      [0x0101, long(source.previewHeightPx)],
      [0x0102, short(8, 8, 8)],
      [0x0103, short(7)],
      [0x0106, short(6)],
      [0x0111, long(previewAt)],
      [0x0115, short(3)],
      [0x0116, long(source.previewHeightPx)],
      [0x0117, long(source.preview.length)],
      [0x011c, short(1)],
      [0x014a, long(rawAt)],
      [0x8769, long(exifAt)],
      [0xc612, byte(1, 4, 0, 0)],
      [0xc613, byte(1, 1, 0, 0)],
      [0xc614, ascii(`${words.make} ${words.model}`)],
      // sRGB's matrix for D65 (IEC 61966-2-1): the mosaic holds sRGB's own primaries.
      [
        0xc621,
        {
          type: 'signedRational',
          value: [
            [32405, 10000],
            [-15371, 10000],
            [-4985, 10000],
            [-9693, 10000],
            [18760, 10000],
            [416, 10000],
            [556, 10000],
            [-2040, 10000],
            [10572, 10000],
          ],
        },
      ],
      [0xc628, rational([1, 1], [1, 1], [1, 1])],
      [0xc62f, ascii(words.serial)],
      [0xc65a, short(21)],
    ]);
  const rawTags = (stripAt: number): TiffTags =>
    new Map<number, TiffValue>([
      [0x00fe, long(0)],
      [0x0100, long(source.widthPx)],
      [0x0101, long(source.heightPx)],
      [0x0102, short(16)],
      [0x0103, short(1)],
      [0x0106, short(32803)],
      [0x0111, long(stripAt)],
      [0x0115, short(1)],
      [0x0116, long(source.heightPx)],
      [0x0117, long(raw.length)],
      [0x011c, short(1)],
      [0x828d, short(2, 2)],
      [0x828e, byte(0, 1, 1, 2)],
      [0xc61d, long(WHITE_LEVEL)],
    ]);
  const exifAt = TIFF_HEADER.length + directoryLength(previewTags(0, 0, 0));
  const rawAt = exifAt + directoryLength(exifTags(words));
  const previewAt = rawAt + directoryLength(rawTags(0));
  const previewEnd = previewAt + source.preview.length + (source.preview.length % 2);
  return Buffer.concat([
    TIFF_HEADER,
    directory(previewTags(exifAt, rawAt, previewAt), TIFF_HEADER.length),
    directory(exifTags(words), exifAt),
    directory(rawTags(previewEnd), rawAt),
    source.preview,
    Buffer.alloc(source.preview.length % 2),
    raw,
  ]);
}
