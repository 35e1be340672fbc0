import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FrameId } from '../../core/ids.js';
import { codesOf } from '../../core/measure/describeBike.js';
import { drawMachine, drawRgb, grain } from '../../core/measure/drawnPictures.js';
import type { RgbImage } from '../../core/measure/images.js';
import type { FrameMeasured } from '../../core/measure/types.js';
import { measureImage, openVision, refineSharpness, type Vision, VisionError } from './index.js';

const facts = { frameId: 'f'.repeat(32) as FrameId, source: 'shrink-on-load', tier: 'preview' } as const;
const root = fileURLToPath(new URL('../../../', import.meta.url));

let vision: Vision;
beforeAll(async () => {
  vision = await openVision();
});
afterAll(() => vision.close());

describe('the models', () => {
  it('are the files models/README.md names, byte for byte', () => {
    const folder = join(root, 'models');
    const readme = readFileSync(join(folder, 'README.md'), 'utf8');
    const rows = [...readme.matchAll(/^\| `([\w.-]+)` \| ([\d ]+) \| `([0-9a-f]{64})` \|$/gm)];
    expect(rows.map(([, name]) => name).sort()).toEqual(
      readdirSync(folder)
        .filter((name) => name !== 'README.md')
        .sort(),
    );
    for (const [, name, bytes, sum] of rows) {
      const data = readFileSync(join(folder, name!));
      expect(data.length).toBe(Number(bytes!.replaceAll(' ', '')));
      expect(createHash('sha256').update(data).digest('hex')).toBe(sum);
    }
  });
});

describe('a picture with no bike', () => {
  const tarmac = drawRgb(1024, 683, (x, y) => {
    const value = 96 + Math.round(20 * grain(x, y));
    return [value, value, value + 2];
  });

  it('has no subjects and is a divider', async () => {
    const frame = await measureImage(vision, tarmac, facts);
    expect(frame.subjects).toEqual([]);
    expect(frame.dividerScore).toBeGreaterThan(0.8);
    expect(frame.clippedShare).toBe(0);
    expect(frame.meanLuminance).toBeGreaterThan(0.1);
    expect(frame.meanLuminance).toBeLessThan(0.2);
    expect(codesOf(frame.sceneDescriptor)).toHaveLength(88);
  });

  it('is measured twice alike', async () => {
    expect(await measureImage(vision, tarmac, facts)).toEqual(await measureImage(vision, tarmac, facts));
  });
});

describe('what cannot be measured', () => {
  const blank = (width: number, height: number, bytes = 3 * width * height): RgbImage => ({
    width,
    height,
    data: new Uint8Array(bytes),
  });

  it('says that the bytes do not fit the size, and what to do', async () => {
    await expect(measureImage(vision, blank(100, 50, 20_000), facts)).rejects.toThrow(
      new VisionError('Expected 15000 bytes for 100×50 RGB but got 20000; decode the picture without alpha, to sRGB.'),
    );
  });

  it('says that a picture is too small', async () => {
    await expect(measureImage(vision, blank(12, 50), facts)).rejects.toThrow('at least 16×16 pixels but got 12×50');
  });
});

describe('sharpness from full resolution', () => {
  it('replaces that of one subject and says that the tier is full', () => {
    const subject = { isMain: true, sharpness: { kind: 'absent', reason: 'subject-too-small' } };
    const frame = { kind: 'measured', tier: 'preview', subjects: [subject, subject] } as unknown as FrameMeasured;
    const refined = refineSharpness(frame, 1, { grey: drawMachine(160), scalePx: 6000 });
    expect(refined.tier).toBe('full');
    expect(refined.subjects[0]!.sharpness).toEqual(subject.sharpness);
    expect(refined.subjects[1]!.sharpness).toMatchObject({ scalePx: 6000 });
  });
});

const photos = join(root, '..', 'shared', 'data', 'race-photos');
const hasPhotos = existsSync(photos);
if (!hasPhotos)
  console.warn('SKIPPED 2 tests of the detector on real photographs: ../shared/data/race-photos is absent.');

describe.skipIf(!hasPhotos)('on real photographs', () => {
  async function read(name: string): Promise<RgbImage> {
    const { data, info } = await sharp(join(photos, name))
      .resize(1024, 1024, { fit: 'inside' })
      .removeAlpha()
      .toColourspace('srgb')
      .raw()
      .toBuffer({ resolveWithObject: true });
    return { data, width: info.width, height: info.height };
  }

  it('finds a leaning bike with its rider as one subject, and measures everything of it', async () => {
    const frame = await measureImage(vision, await read('00000002.jpg'), facts);
    const bikes = frame.subjects.filter(({ what }) => what === 'motorcycle');
    expect(bikes).toHaveLength(1);
    const [bike] = bikes;
    expect(bike!.isMain).toBe(true);
    expect(bike!.riderBox).toBeDefined();
    expect(bike!.bikeColours.length).toBeGreaterThan(0);
    expect(bike!.riderColours.length).toBeGreaterThan(0);
    expect(bike!.helmetColours?.length).toBeGreaterThan(0);
    expect(bike!.sharpness).toHaveProperty('overall');
    // As labelled by eye in numbers.tsv.
    expect(bike!.numbers?.[0]?.text).toBe('99');
    expect(codesOf(bike!.descriptor)).toHaveLength(1008);
    expect(frame.dividerScore).toBeLessThan(0.1);
  });

  it('ranks a frame above the same frame blurred as by a moving camera', async () => {
    const sharpOne = await read('00000042.jpg');
    const kernel = {
      width: 9,
      height: 9,
      kernel: Array.from({ length: 81 }, (_, index) => (Math.floor(index / 9) === 4 ? 1 : 0)),
    };
    const data = await sharp(Buffer.from(sharpOne.data), {
      raw: { width: sharpOne.width, height: sharpOne.height, channels: 3 },
    })
      .convolve(kernel)
      .raw()
      .toBuffer();
    const sharpnessOf = async (image: RgbImage) => {
      const main = (await measureImage(vision, image, facts)).subjects.find(({ isMain }) => isMain);
      if (!main || !('overall' in main.sharpness)) throw new Error('Expected a main subject with a sharpness.');
      return main.sharpness;
    };
    const [before, after] = [await sharpnessOf(sharpOne), await sharpnessOf({ ...sharpOne, data })];
    // The photograph is enlarged from 500 px, so it is soft to begin with.
    expect(after.overall).toBeLessThan(0.7 * before.overall);
    expect(after.alongX / before.alongX).toBeLessThan(0.7 * (after.alongY / before.alongY));
  });
});
