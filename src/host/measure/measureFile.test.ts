/** Through the real pool: real children, decoder and networks, on camera-like files. */
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cameraJpeg, HALVARD, mpfJpeg } from '../../../test/fixtures/metadata/cameraFiles.js';
import { texturedJpeg } from '../../../test/fixtures/metadata/pictures.js';
import type { FileId } from '../../core/ids.js';
import type { FileMetadata, FrameMeasured, FrameMeasurement, Subject } from '../../core/measure/types.js';
import { createMeasurePool } from './index.js';
import type { MeasurePool } from './types.js';

let folder: string;
let pictures: string;
let pool: MeasurePool;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-measure-'));
  pictures = join(folder, 'pictures');
  pool = createMeasurePool({ workers: 1, pictureFolder: pictures, timeLimitMs: 30_000 });
});

afterAll(async () => {
  await pool.close();
  await rm(folder, { recursive: true, force: true });
});

const measure = async (name: string, bytes: Uint8Array, tier: 'preview' | 'full' = 'preview') => {
  const path = join(folder, name);
  await writeFile(path, bytes);
  const header = await pool.measure({ kind: 'metadata', path, fileId: name as FileId });
  const metadata = (header as { metadata: FileMetadata }).metadata;
  const answer = await pool.measure({ kind: 'pixels', path, metadata, tier });
  return { metadata, pixels: (answer as { pixels: FrameMeasurement }).pixels };
};

describe('a measuring child', () => {
  it('MS12: measures a frame and leaves its small picture, whole, upright and without metadata', async () => {
    const file = mpfJpeg(await texturedJpeg(1500, 1000), await texturedJpeg(1200, 800), {
      settings: { ...HALVARD, orientation: 6 },
    });
    const { metadata, pixels } = await measure('HX7_0001.JPG', file);
    expect(pixels).toMatchObject({ kind: 'measured', tier: 'preview', source: 'mpf-preview' });
    const small = await sharp(join(pictures, `${metadata.frameId}.jpg`)).metadata();
    expect([small.width, small.height, small.exif]).toEqual([427, 640, undefined]);
    expect((await readdir(pictures)).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  it('a frame with nothing to refine is measured in full all the same', async () => {
    const { pixels } = await measure('HX7_0002.JPG', cameraJpeg(await texturedJpeg(1500, 1000)), 'full');
    expect(pixels).toMatchObject({ kind: 'measured', tier: 'full', source: 'shrink-on-load' });
  });

  it('MS15: failing at full resolution is told from failing as such', async () => {
    const file = mpfJpeg(await texturedJpeg(1500, 1000), await texturedJpeg(1200, 800));
    const { metadata, pixels: preview } = await measure('HX7_0004.JPG', file);
    const path = join(folder, 'HX7_0004.JPG');
    await writeFile(path, file.subarray(0, 2000));
    const box = [0.25, 0.25, 0.5, 0.5] as const;
    const known = { ...(preview as FrameMeasured), subjects: [{ box, isMain: true } as unknown as Subject] };
    const answer = await pool.measure({ kind: 'pixels', path, metadata, tier: 'full', known });
    expect(answer).toMatchObject({ pixels: { kind: 'unmeasurable', tier: 'full', frameId: metadata.frameId } });
  });

  it('MS7: damaged files are unmeasurable with a sentence, and the next file is measured', async () => {
    const whole = cameraJpeg(await texturedJpeg(600, 400));
    for (const bytes of [Buffer.alloc(0), Buffer.alloc(5000), whole.subarray(0, whole.length / 2)]) {
      const { metadata, pixels } = await measure('HX7_0003.JPG', bytes);
      expect(pixels).toMatchObject({
        kind: 'unmeasurable',
        frameId: metadata.frameId,
        reason: expect.stringMatching(/^Expected a whole picture.*Copy the file from the card again/),
      });
    }
    expect((await measure('two\n“lines” 🏍️.JPG', whole)).pixels.kind).toBe('measured');
  });
});
