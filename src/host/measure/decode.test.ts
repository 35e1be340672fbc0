import { mkdtemp, open, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  cameraJpeg,
  dngFile,
  exifSegment,
  HALVARD,
  mpfJpeg,
  segment,
  withSegments,
} from '../../../test/fixtures/metadata/cameraFiles.js';
import { dataJpegs } from '../../../test/fixtures/metadata/oracles.js';
import { flagJpeg, texturedJpeg } from '../../../test/fixtures/metadata/pictures.js';
import type { FileId } from '../../core/ids.js';
import type { RgbImage } from '../../core/measure/images.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { readMetadata } from '../metadata/index.js';
import { decodeForMeasuring, decodeRegion, PictureError } from './decode.js';

let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-decode-'));
});

afterAll(() => rm(folder, { recursive: true, force: true }));

const onDisk = async (bytes: Uint8Array, name = 'HX7_0412.JPG'): Promise<[string, FileMetadata]> => {
  const path = join(folder, name);
  await writeFile(path, bytes);
  return [path, await readMetadata(path, 'a'.repeat(32) as FileId)];
};

/** Red, green, blue at a place given in shares of width and height. */
const colourAt = ({ data, width, height }: RgbImage, x: number, y: number): number[] => {
  const at = (Math.floor(y * height) * width + Math.floor(x * width)) * 3;
  return [...data.subarray(at, at + 3)];
};

const largestDifference = (a: Uint8Array, b: Uint8Array): number =>
  a.reduce((most, value, index) => Math.max(most, Math.abs(value - (b[index] as number))), 0);

const meanDifference = (a: Uint8Array, b: Uint8Array): number =>
  a.reduce((sum, value, index) => sum + Math.abs(value - (b[index] as number)), 0) / a.length;

describe('decoding for measuring', () => {
  it('MS6: takes the MPF preview when its long edge has a thousand pixels', async () => {
    const file = mpfJpeg(await texturedJpeg(1500, 1000), await flagJpeg(1200, 800));
    const { image, source } = await decodeForMeasuring(...(await onDisk(file)));
    expect(source).toBe('mpf-preview');
    expect([image.width, image.height, image.data.length]).toEqual([1024, 683, 1024 * 683 * 3]);
    expect(colourAt(image, 0.25, 0.7)[0]).toBeGreaterThan(180);
  });

  it('MS6: leaves a smaller preview alone and shrinks the whole picture', async () => {
    const file = mpfJpeg(await flagJpeg(1500, 1000), await texturedJpeg(640, 427));
    const { image, source } = await decodeForMeasuring(...(await onDisk(file)));
    expect(source).toBe('shrink-on-load');
    expect(image.width).toBe(1024);
    expect(colourAt(image, 0.75, 0.7)[2]).toBeGreaterThan(180);
  });

  it('MS6: takes the JPEG inside a raw', async () => {
    const [path, metadata] = await onDisk(dngFile(await flagJpeg(600, 400), [600, 400]), 'HX7_0412.DNG');
    const { image } = await decodeForMeasuring(path, metadata);
    expect([image.width, image.height]).toEqual([600, 400]);
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8] as const)(
    'orientation %i comes out upright, as libvips itself turns it',
    async (orientation) => {
      const jpeg = cameraJpeg(await flagJpeg(300, 200), { ...HALVARD, orientation });
      const { image } = await decodeForMeasuring(...(await onDisk(jpeg)));
      const expected = await sharp(jpeg).autoOrient().raw().toBuffer({ resolveWithObject: true });
      expect([image.width, image.height]).toEqual([expected.info.width, expected.info.height]);
      expect(largestDifference(image.data, expected.data)).toBeLessThanOrEqual(1);
    },
  );

  it.each([3, 6, 7] as const)('a preview is turned by the main picture’s orientation %i', async (orientation) => {
    const preview = await flagJpeg(1200, 800);
    const file = mpfJpeg(await texturedJpeg(1500, 1000), preview, { settings: { ...HALVARD, orientation } });
    const { image, source } = await decodeForMeasuring(...(await onDisk(file)));
    const expected = await sharp(withSegments(preview, exifSegment({ orientation })))
      .autoOrient()
      .resize(image.width, image.height)
      .raw()
      .toBuffer();
    expect(source).toBe('mpf-preview');
    // Turned before or after it is made smaller, edges fall on other pixels; the picture as a whole does not change.
    expect(meanDifference(image.data, expected)).toBeLessThan(1);
  });

  it('grey pictures come out in three equal channels', async () => {
    const grey = await sharp(await texturedJpeg(300, 200))
      .greyscale()
      .jpeg()
      .toBuffer();
    const { image } = await decodeForMeasuring(...(await onDisk(grey)));
    expect(image.data.length).toBe(300 * 200 * 3);
  });

  it('a colour profile is followed to sRGB', async () => {
    const green = { create: { width: 200, height: 200, channels: 3 as const, background: { r: 40, g: 200, b: 60 } } };
    const wide = await sharp(green).withIccProfile('p3').jpeg({ quality: 95 }).toBuffer();
    const { image } = await decodeForMeasuring(...(await onDisk(wide)));
    const [red, greenValue, blue] = colourAt(image, 0.5, 0.5) as [number, number, number];
    expect(Math.abs(red - 40) + Math.abs(greenValue - 200) + Math.abs(blue - 60)).toBeLessThan(15);
  });

  it('a region of the full picture is cut out of the upright picture, in grey', async () => {
    const jpeg = cameraJpeg(await flagJpeg(1500, 1000), { ...HALVARD, orientation: 6 });
    const [path, metadata] = await onDisk(jpeg);
    const rect = { left: 760, top: 100, right: 990, bottom: 400 };
    const grey = await decodeRegion(path, metadata, rect);
    expect([grey.width, grey.height, grey.data.length]).toEqual([230, 300, 230 * 300]);
    // Turned by 90° the white top quarter stands at the right: columns 750–999.
    expect(Math.min(...grey.data.subarray(5, 220))).toBeGreaterThan(240);
  });
});

/** A JPEG whose header says it is enormous; there is next to nothing in it. */
const bomb = (small: Buffer, width: number, height: number): Buffer => {
  const file = Buffer.from(small);
  const header = file.indexOf(Uint8Array.of(0xff, 0xc0));
  file.writeUInt16BE(height, header + 5);
  file.writeUInt16BE(width, header + 7);
  return file;
};

describe('pictures that cannot be measured', () => {
  it('MS11: 200 megapixels are refused by their header, before anything is decoded', async () => {
    const [path, metadata] = await onDisk(bomb(cameraJpeg(await texturedJpeg(64, 64)), 20000, 10000));
    expect(metadata).toMatchObject({ widthPx: 20000, heightPx: 10000 });
    await expect(decodeForMeasuring(path, metadata)).rejects.toThrow(PictureError);
    await expect(decodeForMeasuring(path, metadata)).rejects.toThrow(
      /at most 160 megapixels but this one says 20000 × 10000 \(200 megapixels\).*kept and not measured/,
    );
  });

  it('MS11: a preview that says it is enormous is no preview', async () => {
    const preview = bomb(await texturedJpeg(1200, 800), 60000, 40000);
    const [, metadata] = await onDisk(mpfJpeg(await texturedJpeg(1500, 1000), preview));
    expect(metadata.preview).toBeUndefined();
  });

  it('MS11: where the header lies to us but not to the decoder, the decoder’s own limit holds', async () => {
    const [path, metadata] = await onDisk(bomb(cameraJpeg(await texturedJpeg(64, 64)), 20000, 10000));
    const { widthPx: _, heightPx: __, ...unsized } = metadata;
    await expect(decodeForMeasuring(path, unsized)).rejects.toThrow(/decoder stopped: .*pixel limit/);
  });

  it('MS7: a picture cut short is named as damaged', async () => {
    const file = cameraJpeg(await texturedJpeg(1500, 1000));
    const [path, metadata] = await onDisk(file.subarray(0, file.length / 2));
    await expect(decodeForMeasuring(path, metadata)).rejects.toThrow(
      /Expected a whole picture but the decoder stopped.*Copy the file from the card again/,
    );
  });

  it('MS7: a picture cut short behind its main image is measured from that', async () => {
    const file = mpfJpeg(await texturedJpeg(1500, 1000), await texturedJpeg(1200, 800));
    const { source } = await decodeForMeasuring(...(await onDisk(file.subarray(0, file.length - 1000))));
    expect(source).toBe('shrink-on-load');
  });

  it('MS7: an empty file, a file of zeros and a lone header are refused with a sentence', async () => {
    const header = withSegments(Buffer.from([0xff, 0xd8]), segment(0xe1, Buffer.from('Exif\0\0')));
    for (const bytes of [Buffer.alloc(0), Buffer.alloc(4096), header]) {
      await expect(decodeForMeasuring(...(await onDisk(bytes)))).rejects.toThrow(/Expected a whole picture/);
    }
  });

  it('MS7: a picture of a few pixels is refused with its size', async () => {
    await expect(decodeForMeasuring(...(await onDisk(await texturedJpeg(20, 20))))).rejects.toThrow(/has 20 × 20/);
  });

  it('MS7: a raw without a preview says what to do', async () => {
    const file = dngFile(Buffer.from('no picture'), [0, 0]);
    await expect(decodeForMeasuring(...(await onDisk(file, 'HX7_0412.DNG')))).rejects.toThrow(/Let the camera write/);
  });

  it('MS10: a file that is gone is not the picture’s fault', async () => {
    const [path, metadata] = await onDisk(mpfJpeg(await texturedJpeg(1500, 1000), await texturedJpeg(1200, 800)));
    await rm(path);
    await expect(decodeForMeasuring(path, metadata)).rejects.not.toThrow(PictureError);
    const { preview: _, ...withoutPreview } = metadata;
    await expect(decodeForMeasuring(path, withoutPreview)).rejects.not.toThrow(PictureError);
    await expect(open(path)).rejects.toThrow(/ENOENT/);
  });
});

const edgeCases = dataJpegs('metadata-edge-cases', 1);

describe.skipIf(edgeCases.length === 0)('real edge cases', () => {
  it('MS7: each is decoded or refused with a sentence', async () => {
    let decoded = 0;
    for (const path of edgeCases) {
      const metadata = await readMetadata(path, 'a'.repeat(32) as FileId);
      const outcome = await decodeForMeasuring(path, metadata).catch((error: Error) => error);
      if (outcome instanceof Error) expect(outcome, path).toBeInstanceOf(PictureError);
      else decoded += 1;
    }
    expect(decoded).toBeGreaterThan(20);
  });
});
