/**
 * How like their originals finals are, by the structural similarity index ("Image quality assessment: from error visibility to structural
 * similarity", IEEE TIP 13(4), 2004) of npm ssim.js, which is first held against a published value. Pictures: scikit-image's, never copied.
 */
import { spawnSync } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { ssim } from 'ssim.js';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PLAIN_LOOK, planFinal } from '../../src/core/finish/index.js';
import type { FrameId } from '../../src/core/ids.js';
import { makePicture } from '../../src/host/finish/makePicture.js';
import { MADE_UP_WORDS } from '../../src/host/finish/sources/testing.js';
import { skimagePictures } from '../fixtures/sharpness/skimagePictures.js';

const pictures = skimagePictures(['camera', 'motorcycle_left'], 4);

async function pixelsOf(input: string | Buffer) {
  const { data, info } = await sharp(input)
    .toColourspace('srgb')
    .removeAlpha()
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { data: new Uint8ClampedArray(data), width: info.width, height: info.height };
}

/** As published: Gaussian windows, no halving first. */
async function likeness(a: string | Buffer, b: string | Buffer): Promise<number> {
  return ssim(await pixelsOf(a), await pixelsOf(b), { ssim: 'original', downsample: false }).mssim;
}

describe.skipIf(pictures === null)('finals beside their originals', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'tyrewall-likeness-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  async function finalOf(original: string, longEdgePx: number | null): Promise<string> {
    const to = join(folder, `${longEdgePx ?? 'full'}.jpg`);
    const plan = planFinal(MADE_UP_WORDS, PLAIN_LOOK, longEdgePx, { kind: 'camera' });
    const outcome = await makePicture({ frameId: '0'.repeat(32) as FrameId, original, plan, to });
    expect(outcome.kind === 'failed' ? outcome.sentence : '').toBe('');
    return to;
  }

  it('CHECKS 6: the index gives the published .35796 for “camera” under noise of NumPy’s seed 5 (IPOL imdiff, three places)', async () => {
    const noisy = join(folder, 'noisy.png');
    const script = `import sys, numpy as np, skimage.io as io
np.random.seed(5)
camera = io.imread(sys.argv[1])
io.imsave(sys.argv[2], np.clip(camera + 20 * np.random.randn(*camera.shape), 0, 255).astype(camera.dtype), check_contrast=False)`;
    const made = spawnSync('/usr/bin/python3', ['-c', script, pictures!.camera, noisy], { encoding: 'utf8' });
    expect(made.stderr).toBe('');
    expect(await likeness(pictures!.camera, noisy)).toBeCloseTo(0.357959, 3);
  });

  it('FI16: a final at full size and neutral setting is its original to the eye', async () => {
    expect(await likeness(pictures!.motorcycle_left, await finalOf(pictures!.motorcycle_left, null))).toBeGreaterThan(
      0.98,
    );
  });

  it('FI16: a smaller final is what a plain cubic reduction of its original is', async () => {
    const { width, height } = await sharp(pictures!.motorcycle_left).metadata();
    const half = { width: Math.round(width / 2), height: Math.round(height / 2) };
    const plain = await sharp(pictures!.motorcycle_left)
      .resize({ ...half, kernel: 'cubic', fit: 'fill' })
      .png()
      .toBuffer();
    expect(
      await likeness(plain, await finalOf(pictures!.motorcycle_left, Math.max(half.width, half.height))),
    ).toBeGreaterThan(0.95);
  });

  it('FI16: a blurred picture is told from its original, so that the index can fail', async () => {
    const blurred = await sharp(pictures!.motorcycle_left).blur(2).png().toBuffer();
    expect(await likeness(pictures!.motorcycle_left, blurred)).toBeLessThan(0.9);
  });
});
