import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { xxhash128 } from 'hash-wasm';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  cameraJpeg,
  dngFile,
  exifDirectories,
  exifSegment,
  HALVARD,
  mpfJpeg,
  segment,
  withSegments,
} from '../../../test/fixtures/metadata/cameraFiles.js';
import { texturedJpeg } from '../../../test/fixtures/metadata/pictures.js';
import { buildTiff, undefinedBytes } from '../../../test/fixtures/metadata/tiffBuilder.js';
import type { FileId } from '../../core/ids.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { MetadataError, readMetadata } from './index.js';

let folder: string;
let picture: Buffer;
let preview: Buffer;
let thumbnail: Buffer;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-metadata-'));
  picture = await texturedJpeg(300, 200);
  preview = await texturedJpeg(150, 100);
  thumbnail = await texturedJpeg(48, 32);
});

afterAll(() => rm(folder, { recursive: true, force: true }));

/** Writes a file and reads its metadata as the program does: with the hash of all its bytes. */
const read = async (bytes: Uint8Array, name = 'HX7_0412.JPG'): Promise<FileMetadata> => {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return readMetadata(path, (await xxhash128(bytes)) as FileId);
};

const scanOf = (jpeg: Buffer): Buffer => jpeg.subarray(jpeg.indexOf(Uint8Array.of(0xff, 0xda)));

describe('what the camera wrote', () => {
  it('is read whole: time, body, lens, exposure, position, size, preview', async () => {
    const position = { lat: [51, 30, 1.5], lon: [0, 7, 30] } as const;
    const metadata = await read(cameraJpeg(picture, { ...HALVARD, position, thumbnail }));
    expect(metadata).toMatchObject({
      media: 'jpeg',
      captured: { kind: 'recorded', text: '2026:05:30 14:23:07', subSec: '45', offset: '+02:00' },
      body: { make: 'Halvard Optical', model: 'HX-7', serial: '0040117' },
      lens: { model: 'Halvard 70-200 f/2.8', focalLengthMm: 200, focalLength35Mm: 300 },
      exposure: { shutterS: 1 / 500, fNumber: 5.6, iso: 400, biasEv: -1 / 3 },
      orientation: 1,
      widthPx: 300,
      heightPx: 200,
      preview: { widthPx: 48, heightPx: 32, bytes: thumbnail.length },
      notes: [],
    });
    expect(metadata.position?.latDeg).toBeCloseTo(51 + 30 / 60 + 1.5 / 3600, 9);
    expect(metadata.position?.lonDeg).toBeCloseTo(-(7 / 60 + 30 / 3600), 9);
  });

  it('is read in either byte order', async () => {
    const little = await read(withSegments(picture, exifSegment(HALVARD, { order: 'II' })));
    const big = await read(withSegments(picture, exifSegment(HALVARD, { order: 'MM' })));
    expect({ ...big, fileId: null }).toEqual({ ...little, fileId: null });
  });

  it('a picture on its side has its upright size', async () => {
    const metadata = await read(mpfJpeg(picture, preview, { settings: { ...HALVARD, orientation: 6 } }));
    expect(metadata).toMatchObject({ widthPx: 200, heightPx: 300, preview: { widthPx: 100, heightPx: 150 } });
  });

  it('what was not recorded is absent, not zero', async () => {
    const metadata = await read(picture);
    expect(metadata.captured).toEqual({ kind: 'absent', reason: 'no-capture-time' });
    expect(metadata).toMatchObject({ body: {}, lens: {}, exposure: {} });
    expect(metadata).not.toHaveProperty('orientation');
    expect(metadata).not.toHaveProperty('position');
  });

  it('a serial of zeros and a position at 0°, 0° are what a camera writes that has none', async () => {
    const position = { lat: [0, 0, 0], lon: [0, 0, 0] } as const;
    const metadata = await read(cameraJpeg(picture, { ...HALVARD, serial: '0000000', position }));
    expect(metadata.body).not.toHaveProperty('serial');
    expect(metadata).not.toHaveProperty('position');
  });

  it('two cards whose bodies say the same serial are read as they are; telling them apart is not for the reader', async () => {
    const first = await read(cameraJpeg(picture, HALVARD), 'A.JPG');
    const second = await read(cameraJpeg(picture, { ...HALVARD, model: 'HX-7s' }), 'B.JPG');
    expect(second.body.serial).toBe(first.body.serial);
    expect(second.body.model).not.toBe(first.body.model);
  });
});

describe('the identity of a frame', () => {
  const rated = { ...HALVARD, rating: 5 };

  it('MS1: is XXH3-128 of the coded picture and then the recorded time, sub-seconds behind a point', async () => {
    const expected = await xxhash128(Buffer.concat([scanOf(picture), Buffer.from('2026:05:30 14:23:07.45')]));
    expect((await read(cameraJpeg(picture))).frameId).toBe(expected);
  });

  it('MS1: without sub-seconds the time ends with the second', async () => {
    const { subSec: _, ...settings } = HALVARD;
    const expected = await xxhash128(Buffer.concat([scanOf(picture), Buffer.from('2026:05:30 14:23:07')]));
    expect((await read(cameraJpeg(picture, settings))).frameId).toBe(expected);
  });

  it('MS1: a rating set in the camera changes the file but not the frame', async () => {
    const before = await read(cameraJpeg(picture));
    const after = await read(cameraJpeg(picture, rated));
    expect(after.fileId).not.toBe(before.fileId);
    expect(after.frameId).toBe(before.frameId);
  });

  it('MS1: maker notes that differ between two slots change the file but not the frame', async () => {
    const slot = (note: string) => {
      const [first] = exifDirectories(HALVARD);
      const exif = first?.[0x8769];
      if (exif?.kind !== 'directories') throw new Error('the fixture has an Exif directory');
      const directory = { ...exif.directories[0], 37500: undefinedBytes(Buffer.from(note)) };
      const tiff = buildTiff([{ ...first, 34665: { kind: 'directories', directories: [directory] } }]);
      return read(withSegments(picture, segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]))));
    };
    const [one, two] = [await slot('HALVARD slot 1'), await slot('HALVARD slot 2, longer')];
    expect(two.fileId).not.toBe(one.fileId);
    expect(two.frameId).toBe(one.frameId);
  });

  it('MS1: pictures behind the first, and a thumbnail inside it, do not matter', async () => {
    const alone = await read(cameraJpeg(picture));
    expect((await read(mpfJpeg(picture, preview))).frameId).toBe(alone.frameId);
    expect((await read(cameraJpeg(picture, { ...HALVARD, thumbnail }))).frameId).toBe(alone.frameId);
  });

  it('MS2: frames of sky that are equal byte for byte are still two when their times differ', async () => {
    const one = await read(cameraJpeg(picture, { ...HALVARD, subSec: '45' }));
    const two = await read(cameraJpeg(picture, { ...HALVARD, subSec: '46' }));
    expect(two.frameId).not.toBe(one.frameId);
  });

  it('MS2: one more bit in the picture is another frame', async () => {
    const changed = Buffer.from(cameraJpeg(picture));
    changed[changed.length - 40] = (changed[changed.length - 40] as number) ^ 1;
    expect((await read(changed)).frameId).not.toBe((await read(cameraJpeg(picture))).frameId);
  });

  it('MS4: a file without a time, and one that is no JPEG, is known by all its bytes', async () => {
    const untimed = await read(picture);
    expect(untimed.frameId).toBe(untimed.fileId);
    const raw = await read(dngFile(preview, [150, 100]), 'HX7_0412.DNG');
    expect(raw.frameId).toBe(raw.fileId);
    const memo = await read(Buffer.from('RIFF'), 'HX7_0412.WAV');
    expect(memo).toMatchObject({ media: 'side-file', frameId: memo.fileId });
  });

  it('MS3: a picture cut short is the bytes there are and its time; cut elsewhere it is another', async () => {
    const whole = cameraJpeg(picture);
    const cut = await read(whole.subarray(0, -1000));
    const expected = await xxhash128(
      Buffer.concat([scanOf(picture).subarray(0, -1000), Buffer.from('2026:05:30 14:23:07.45')]),
    );
    expect(cut.frameId).toBe(expected);
    expect((await read(whole.subarray(0, -1001))).frameId).not.toBe(cut.frameId);
  });

  it('MS1: a file larger than the part kept in memory is hashed through to its end', async () => {
    const large = await texturedJpeg(1500, 1000, 95);
    expect(large.length).toBeGreaterThan(300_000);
    const expected = await xxhash128(Buffer.concat([scanOf(large), Buffer.from('2026:05:30 14:23:07.45')]));
    expect((await read(mpfJpeg(large, preview))).frameId).toBe(expected);
  });
});

describe('bad input', () => {
  it('MS7: an empty file is said to be empty', async () => {
    const metadata = await read(Buffer.alloc(0));
    expect(metadata).toMatchObject({ media: 'jpeg', bytes: 0, captured: { kind: 'absent', reason: 'unreadable' } });
    expect(metadata.notes).toEqual([expect.stringMatching(/empty \(0 bytes\).*Copy it from the card again/)]);
  });

  it('MS7: a picture cut short keeps its time and says what to do', async () => {
    const metadata = await read(cameraJpeg(picture).subarray(0, 4000));
    expect(metadata.captured.kind).toBe('recorded');
    expect(metadata.notes).toEqual([expect.stringMatching(/stops before the picture ends \(4000 bytes\).*again/)]);
  });

  it('MS7: a file cut short inside its header keeps what can be read', async () => {
    const whole = cameraJpeg(picture);
    const metadata = await read(whole.subarray(0, whole.indexOf(Uint8Array.of(0xff, 0xc0))));
    expect(metadata.captured.kind).toBe('recorded');
    expect(metadata.frameId).toBe(metadata.fileId);
    expect(metadata.notes).toEqual([expect.stringMatching(/stops before the picture begins/)]);
  });

  it('MS7: a file of zeros under a picture’s name is a broken picture, not some other file', async () => {
    const metadata = await read(Buffer.alloc(5000));
    expect(metadata).toMatchObject({ media: 'jpeg', captured: { kind: 'absent', reason: 'unreadable' } });
    expect(metadata.notes[0]).toMatch(/begins with 00000000 instead of a start marker.*Do not format the card/);
  });

  it('MS5: an impossible date is absent with its reason, and the text is in the sentence', async () => {
    const metadata = await read(cameraJpeg(picture, { ...HALVARD, time: '0000:00:00 00:00:00' }));
    expect(metadata.captured).toEqual({ kind: 'absent', reason: 'impossible-date' });
    expect(metadata.notes).toEqual([expect.stringMatching(/"0000:00:00 00:00:00".*Check the camera's clock/)]);
  });

  it('MS5: sub-seconds that are no digits and offsets that are none are left out', async () => {
    const metadata = await read(cameraJpeg(picture, { ...HALVARD, subSec: '4x', offset: '   :  ' }));
    expect(metadata.captured).toEqual({ kind: 'recorded', text: '2026:05:30 14:23:07' });
  });

  it.each(['O\'Brien "left" 0001.JPG', 'ducking 🏍️ 0002.JPG', 'two\nlines 0003.JPG', '-rf.JPG', 'ÅÄÖ 四.JPG'])(
    'MS7: a file named %j is read like any other',
    async (name) => {
      expect((await read(cameraJpeg(picture), name)).captured.kind).toBe('recorded');
    },
  );

  it('MS7: whatever single byte of the header is damaged, there is an answer', async () => {
    const whole = mpfJpeg(picture, preview, { settings: { ...HALVARD, thumbnail } });
    let answers = 0;
    for (let at = 2; at < 1500; at += 7) {
      const damaged = Buffer.from(whole);
      damaged[at] = 0xff;
      expect((await read(damaged)).v).toBeGreaterThan(0);
      answers += 1;
    }
    expect(answers).toBeGreaterThan(200);
  });

  it('MS7: a file that cannot be opened is the disk’s trouble: an error, nothing to remember', async () => {
    const missing = join(folder, 'gone', 'HX7_0001.JPG');
    await expect(readMetadata(missing, 'f'.repeat(32) as FileId)).rejects.toThrow(MetadataError);
    await expect(readMetadata(missing, 'f'.repeat(32) as FileId)).rejects.toThrow(/Check that the disk is connected/);
  });
});
