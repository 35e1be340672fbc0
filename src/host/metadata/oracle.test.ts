/**
 * Real files against ExifTool, field by field. Files: the data set beside the repository (camera originals, and the edge
 * cases of exif-samples and others), never copied here. Without files or oracle the tests are skipped and say so.
 */
import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { xxhash128 } from 'hash-wasm';
import { describe, expect, it } from 'vitest';
import { askExiftool, dataJpegs, type ExiftoolRecord, hasExiftool } from '../../../test/fixtures/metadata/oracles.js';
import type { FileId } from '../../core/ids.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { readMetadata } from './index.js';

const TAGS = [
  '-ExifIFD:DateTimeOriginal',
  '-ExifIFD:CreateDate',
  '-IFD0:ModifyDate',
  '-ExifIFD:SubSecTimeOriginal',
  '-ExifIFD:OffsetTimeOriginal',
  '-IFD0:Make',
  '-IFD0:Model',
  '-ExifIFD:SerialNumber',
  '-Nikon:SerialNumber',
  '-IFD0:Orientation',
  '-ExifIFD:ExposureTime',
  '-ExifIFD:FNumber',
  '-ExifIFD:ISO',
  '-ExifIFD:Flash',
  '-ExifIFD:FocalLength',
  '-ExifIFD:FocalLengthIn35mmFormat',
  '-ExifIFD:LensModel',
  '-File:ImageWidth',
  '-File:ImageHeight',
  '-Composite:GPSLatitude',
  '-Composite:GPSLongitude',
];

const read = async (path: string): Promise<FileMetadata> =>
  readMetadata(path, (await xxhash128(await readFile(path))) as FileId);

const textOf = (record: ExiftoolRecord, tag: string): string | undefined => {
  const value = record[tag];
  const text = value === undefined ? '' : String(value).trim();
  return text === '' ? undefined : text;
};
const numberOf = (record: ExiftoolRecord, tag: string): number | undefined =>
  typeof record[tag] === 'number' && record[tag] > 0 ? record[tag] : undefined;

/** Seconds, metres and the like to four figures: ExifTool prints rationals rounded. */
const rounded = (value: number | undefined): string | undefined => value?.toPrecision(4);

type Fields = Readonly<Record<string, string | number | undefined>>;

const fieldsOf = ({ captured, body, lens, exposure, orientation = 1, ...metadata }: FileMetadata): Fields => {
  const isTurned = orientation >= 5;
  return {
    time: captured.kind === 'recorded' ? captured.text : undefined,
    subSec: captured.kind === 'recorded' ? captured.subSec : undefined,
    offset: captured.kind === 'recorded' ? captured.offset : undefined,
    ...body,
    lensModel: lens.model,
    orientation,
    shutter: rounded(exposure.shutterS),
    fNumber: rounded(exposure.fNumber),
    iso: exposure.iso,
    flash: exposure.flash,
    focalLength: rounded(lens.focalLengthMm),
    focalLength35: lens.focalLength35Mm,
    width: isTurned ? metadata.heightPx : metadata.widthPx,
    height: isTurned ? metadata.widthPx : metadata.heightPx,
    lat: metadata.position?.latDeg.toFixed(4),
    lon: metadata.position?.lonDeg.toFixed(4),
  };
};

const expectedOf = (record: ExiftoolRecord): Fields => {
  const lat = record['Composite:GPSLatitude'];
  const lon = record['Composite:GPSLongitude'];
  return {
    // The order in which a capture time is looked for (Exif 2.32: original, digitised, last change).
    time:
      textOf(record, 'ExifIFD:DateTimeOriginal') ??
      textOf(record, 'ExifIFD:CreateDate') ??
      textOf(record, 'IFD0:ModifyDate'),
    subSec: textOf(record, 'ExifIFD:SubSecTimeOriginal'),
    offset: textOf(record, 'ExifIFD:OffsetTimeOriginal'),
    make: textOf(record, 'IFD0:Make'),
    model: textOf(record, 'IFD0:Model'),
    serial: textOf(record, 'ExifIFD:SerialNumber') ?? textOf(record, 'Nikon:SerialNumber'),
    lensModel: textOf(record, 'ExifIFD:LensModel'),
    orientation: numberOf(record, 'IFD0:Orientation') ?? 1,
    shutter: rounded(numberOf(record, 'ExifIFD:ExposureTime')),
    fNumber: rounded(numberOf(record, 'ExifIFD:FNumber')),
    iso: numberOf(record, 'ExifIFD:ISO'),
    // Exif 2.32, Flash: bit 0 says that it fired.
    flash: ((numberOf(record, 'ExifIFD:Flash') ?? 0) & 1) === 1 ? 'fired' : undefined,
    focalLength: rounded(numberOf(record, 'ExifIFD:FocalLength')),
    focalLength35: numberOf(record, 'ExifIFD:FocalLengthIn35mmFormat'),
    width: numberOf(record, 'File:ImageWidth'),
    height: numberOf(record, 'File:ImageHeight'),
    lat: typeof lat === 'number' ? lat.toFixed(4) : undefined,
    lon: typeof lon === 'number' ? lon.toFixed(4) : undefined,
  };
};

const filled = (fields: Fields): Fields =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));

const originals = dataJpegs('camera-originals', 2);
const edgeCases = dataJpegs('metadata-edge-cases', 2);

describe.skipIf(originals.length === 0 || !hasExiftool(2))('camera originals', () => {
  it('say what ExifTool says, in every field', async () => {
    const records = askExiftool(originals, TAGS);
    expect(records).toHaveLength(originals.length);
    for (const record of records) {
      expect({ file: record.SourceFile, ...filled(fieldsOf(await read(record.SourceFile))) }).toEqual({
        file: record.SourceFile,
        ...filled(expectedOf(record)),
      });
    }
  });

  it('hold the preview that ExifTool finds, at the same place', async () => {
    const records = askExiftool(originals, ['-MPImage2:MPImageStart', '-MPImage2:MPImageLength', '-a']);
    const withPreview = records.filter((record) => record['MPImage2:MPImageLength'] !== undefined);
    expect(withPreview.length).toBe(3);
    for (const record of withPreview) {
      const { preview } = await read(record.SourceFile);
      expect(preview).toMatchObject({
        offset: record['MPImage2:MPImageStart'],
        bytes: record['MPImage2:MPImageLength'],
        heightPx: 1080,
      });
      expect([1616, 1620]).toContain(preview?.widthPx);
    }
  });
});

describe.skipIf(originals.length === 0)('a real burst', () => {
  it('is three frames of three times, all in one second', async () => {
    const burst = await Promise.all(originals.filter((path) => /IMG_358[123]/.test(path)).map(read));
    expect(burst).toHaveLength(3);
    expect(new Set(burst.map(({ frameId }) => frameId)).size).toBe(3);
    expect(burst.map(({ captured }) => captured)).toEqual(
      ['262', '366', '472'].map((subSec) => ({
        kind: 'recorded',
        text: '2020:04:17 10:03:42',
        subSec,
        offset: '-06:00',
      })),
    );
  });
});

/** ExifTool gives up on these ("JPEG format error"); the reader here still gets the intact tags, so it says more. */
const EXIFTOOL_GIVES_UP = new Set(['huge_tag_exif.jpg', 'max_uint32_exif.jpg']);

describe.skipIf(edgeCases.length === 0)('metadata edge cases', () => {
  it('MS7: every one gives an answer with a kind and an identity', async () => {
    expect(edgeCases.length).toBeGreaterThan(30);
    for (const path of edgeCases) {
      const metadata = await read(path);
      expect(metadata.media, path).toBe('jpeg');
      expect(metadata.frameId, path).toMatch(/^[0-9a-f]{32}$/);
    }
  });

  it.skipIf(!hasExiftool(1))('say what ExifTool says, in every field', async () => {
    const records = askExiftool(edgeCases, TAGS);
    const readable = records.filter(({ SourceFile }) => !EXIFTOOL_GIVES_UP.has(basename(SourceFile)));
    expect(readable.length).toBe(edgeCases.length - EXIFTOOL_GIVES_UP.size);
    for (const record of readable) {
      const file = record.SourceFile;
      const fields = fieldsOf(await read(file));
      expect({ file, ...filled(fields) }).toEqual({ file, ...filled(expectedOf(record)) });
    }
  });
});
