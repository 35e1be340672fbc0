/**
 * Frames as heavy as photographs: riders of the invented meeting enlarged to 24 megapixels with grain, half with an MPF
 * preview of 1616×1080, half without.
 */
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { xxhash128 } from 'hash-wasm';
import sharp from 'sharp';
import { framesOfCard } from '../../demo/frames.js';
import type { FileId } from '../../src/core/ids.js';
import { cameraJpeg, HALVARD, mpfJpeg } from '../../test/fixtures/metadata/cameraFiles.js';

const FULL = [6000, 4000] as const;
const PREVIEW = [1616, 1080] as const;
/** Different riders among the frames; the rest are the same at other times. */
const RIDERS = 4;
const FRAMES = 12;

export interface BenchFrame {
  readonly path: string;
  readonly fileId: FileId;
}

export const makeFrames = async (folder: string): Promise<BenchFrame[]> => {
  const kept = await framesOfCard('morning-b');
  const step = Math.floor(kept.length / RIDERS);
  const scenes: { full: Buffer; preview: Buffer }[] = [];
  for (let rider = 0; rider < RIDERS; rider += 1) {
    const scene = kept[rider * step]!;
    scenes.push({ full: await enlarged(scene, FULL), preview: await enlarged(scene, PREVIEW) });
  }
  const frames: BenchFrame[] = [];
  for (let index = 0; index < FRAMES; index += 1) {
    const { full, preview } = scenes[(index >> 1) % RIDERS] as (typeof scenes)[number];
    const settings = { ...HALVARD, time: `2026:05:30 10:${String(index).padStart(2, '0')}:00` };
    const bytes = index % 2 === 0 ? mpfJpeg(full, preview, { settings }) : cameraJpeg(full, settings);
    const path = join(folder, `HX7_${String(index + 1).padStart(4, '0')}.JPG`);
    await writeFile(path, bytes);
    frames.push({ path, fileId: (await xxhash128(bytes)) as FileId });
  }
  return frames;
};

const enlarged = async (scene: Buffer, [width, height]: readonly [number, number]): Promise<Buffer> => {
  const pixels = await sharp(scene).resize(width, height, { fit: 'cover' }).raw().toBuffer();
  addGrain(pixels);
  return sharp(pixels, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 88 })
    .toBuffer();
};

/** ±8 code values, the same for the three channels of a pixel, from a generator with a fixed seed. */
const addGrain = (pixels: Buffer): void => {
  let state = 1;
  for (let at = 0; at + 2 < pixels.length; at += 3) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const grain = (state >>> 28) - 8;
    for (let channel = at; channel < at + 3; channel += 1) {
      pixels[channel] = Math.min(255, Math.max(0, (pixels[channel] as number) + grain));
    }
  }
};
