/**
 * What CHECKS 7 says of DCF, MPF and IPTC, on real files and with ExifTool as the judge. Files: the data set beside the
 * repository, never copied here. Exif field by field is in src/host/metadata/oracle.test.ts.
 */
import { mkdtemp, open, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseDcfFile } from '../../src/core/bringin/index.js';
import { type PictureWords, planProof } from '../../src/core/finish/index.js';
import type { FrameId } from '../../src/core/ids.js';
import type { EpochMs, WallMs } from '../../src/core/units.js';
import { makePicture } from '../../src/host/finish/makePicture.js';
import { readJpegHeader } from '../../src/host/metadata/jpegHeader.js';
import { readMpfIndex } from '../../src/host/metadata/mpf.js';
import { fileSource } from '../../src/host/metadata/source.js';
import { exiftool } from '../builders/pictures.js';
import { askExiftool, dataJpegs, hasExiftool } from '../fixtures/metadata/oracles.js';

const TESTS = 5;
const originals = dataJpegs('camera-originals', TESTS - 2);
const reference = dataJpegs('metadata-edge-cases', 2).find((path) =>
  path.endsWith('IPTC-PhotometadataRef-Std2021.1.jpg'),
);
const isJudged = hasExiftool(TESTS);

/** The name the camera gave: the data set puts the maker's name before it. */
const cameraName = (path: string): string => basename(path).slice(-12);

describe.skipIf(originals.length === 0 || !isJudged)('DCF names of real cameras', () => {
  it('BI1: are read, with the optional colour space’s underscore, and clipped previews’ names are not', () => {
    const names = originals.filter((path) => !basename(path).startsWith('mpf-')).map(cameraName);
    expect(names).toHaveLength(10);
    for (const name of names) expect(parseDcfFile(name), name).not.toBeNull();
    expect(parseDcfFile('_K6A7944.JPG')).toEqual({ free: '_K6A', number: 7944, extension: 'JPG' });
    expect(parseDcfFile('mpf-1616x1080-01.jpg')).toBeNull();
  });

  it('BI1: hold the number that the camera wrote into its maker notes', () => {
    const records = askExiftool(originals, ['-Nikon:FileNumber']).filter(
      (one) => one['Nikon:FileNumber'] !== undefined,
    );
    expect(records).toHaveLength(2);
    for (const { SourceFile, 'Nikon:FileNumber': number } of records)
      expect(parseDcfFile(cameraName(SourceFile))?.number, SourceFile).toBe(number);
  });
});

describe.skipIf(originals.length === 0 || !isJudged)('MPF indexes of real cameras', () => {
  it('MS6: list what ExifTool lists: how many, which kind, where and how long', async () => {
    const tags = ['-MPF0:NumberOfImages', '-MPImage2:MPImageType', '-MPImage2:MPImageStart', '-MPImage2:MPImageLength'];
    const records = askExiftool(originals, [...tags, '-a']).filter((one) => one['MPF0:NumberOfImages'] !== undefined);
    expect(records).toHaveLength(3);
    for (const record of records) {
      // 010002: the preview called Full HD, whatever its width.
      expect(record['MPImage2:MPImageType']).toBe(0x010002);
      expect(await picturesOf(record.SourceFile), record.SourceFile).toEqual({
        count: record['MPF0:NumberOfImages'],
        first: 0,
        second: { isPreview: true, offset: record['MPImage2:MPImageStart'], bytes: record['MPImage2:MPImageLength'] },
      });
    }
  });
});

async function picturesOf(path: string) {
  const file = await open(path);
  try {
    const source = await fileSource(file, (await stat(path)).size);
    const index = await readMpfIndex(source, (await readJpegHeader(source))!.mpfAt!);
    if (index.kind !== 'index') return index;
    return { count: index.pictures.length, first: index.pictures[0]!.offset, second: index.pictures[1]! };
  } finally {
    await file.close();
  }
}

/** What the IPTC's own reference image of 2021.1 holds, by ExifTool. Its values say their property's name. */
const REFERENCE_VALUES = {
  'IPTC:By-line': 'Creator1 (ref2021.1)',
  'IPTC:Credit': 'Credit Line (ref2021.1)',
  'IPTC:CopyrightNotice': 'Copyright (Notice) 2021.1 IPTC - www.iptc.org  (ref2021.1)',
  'IPTC:DateCreated': '2021:10:20',
  'IPTC:TimeCreated': '21:01:01+00:00',
  'XMP-dc:Creator': ['Creator1 (ref2021.1)'],
  'XMP-dc:Rights': 'Copyright (Notice) 2021.1 IPTC - www.iptc.org  (ref2021.1)',
  'XMP-photoshop:Credit': 'Credit Line (ref2021.1)',
  'XMP-photoshop:DateCreated': '2021:10:20 21:01:01+00:00',
  'XMP-iptcExt:Event': 'Event Name (ref2021.1)',
  'XMP-xmpRights:UsageTerms': 'Rights Usage Terms (ref2021.1)',
} as const;

const takenMs = Date.UTC(2021, 9, 20, 21, 1, 1);
const WORDS: PictureWords = {
  title: null,
  keywords: [],
  creator: REFERENCE_VALUES['IPTC:By-line'],
  credit: REFERENCE_VALUES['IPTC:Credit'],
  copyright: REFERENCE_VALUES['IPTC:CopyrightNotice'],
  event: REFERENCE_VALUES['XMP-iptcExt:Event'],
  contact: 'creator@example.com',
  usageTerms: REFERENCE_VALUES['XMP-xmpRights:UsageTerms'],
  captured: { wall: takenMs as WallMs, instant: takenMs as EpochMs },
};

describe.skipIf(reference === undefined || !isJudged)('IPTC properties', () => {
  const wordsIn = (path: string): Record<string, unknown> =>
    JSON.parse(exiftool(['-j', '-G1', '-struct', '-charset', 'iptc=UTF8', '-IPTC:all', '-XMP:all', path])!)[0];
  let folder: string;
  let proof: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-iptc-'));
    proof = join(folder, 'proof.jpg');
    const plan = planProof(WORDS, { subjectBoxes: [] });
    expect(
      await makePicture({ frameId: '0'.repeat(32) as FrameId, original: reference!, plan, to: proof }),
    ).toMatchObject({
      kind: 'made',
    });
  });
  afterAll(() => rm(folder, { recursive: true }));

  it('HO13: stand in a proof where the reference image has them, with the same values', () => {
    expect(wordsIn(reference!)).toMatchObject(REFERENCE_VALUES);
    expect(wordsIn(proof)).toMatchObject(REFERENCE_VALUES);
  });

  it('HO13: of the original none is left in its proof, and none is there that the standard of 2021 lacks but these', () => {
    const known = new Set(Object.keys(wordsIn(reference!)));
    const others = Object.keys(wordsIn(proof)).filter((tag) => !known.has(tag) && tag !== 'SourceFile');
    expect(others.sort()).toEqual([
      'IPTC:CodedCharacterSet',
      // IIM 4.2, 2:118; the standard maps the creator's contact to XMP only.
      'IPTC:Contact',
      'XMP-plus:DataMining',
      // What the proof was made of.
      'XMP-xmpMM:InstanceID',
      'XMP-xmpRights:Marked',
    ]);
    expect(Object.keys(wordsIn(proof)).length).toBeLessThan(30);
    expect(JSON.stringify(wordsIn(proof))).not.toMatch(/Person Shown|Keyword|Headline|Location|City/);
  });
});
