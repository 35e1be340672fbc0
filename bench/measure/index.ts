/**
 * Measuring against the sum of its decode and inference calls alone, in one process, interleaved frame by frame.
 * Frames: riders of the invented meeting enlarged to 24 megapixels with grain (so that they are as heavy as a
 * photograph), half with an MPF preview of 1616×1080, half without.
 */
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { xxhash128 } from 'hash-wasm';
import sharp from 'sharp';
import type { FileId } from '../../src/core/ids.js';
import { rectOf } from '../../src/core/measure/images.js';
import { findSubjects } from '../../src/core/measure/index.js';
import type { FileMetadata } from '../../src/core/measure/types.js';
import { decodeForMeasuring } from '../../src/host/measure/decode.js';
import { createMeasurePool } from '../../src/host/measure/index.js';
import { createMeasurer, type Measurer } from '../../src/host/measure/measureFile.js';
import { readMetadata } from '../../src/host/metadata/index.js';
import { openVision, type Vision } from '../../src/host/vision/index.js';
import { cameraJpeg, HALVARD, mpfJpeg } from '../../test/fixtures/metadata/cameraFiles.js';
import type { Figures } from '../../tools/figures.js';

const FULL = [6000, 4000] as const;
const PREVIEW = [1616, 1080] as const;
const DEMO_FRAMES = new URL('../../demo/frames/morning-b/', import.meta.url);
/** Different riders among the frames; the rest are the same at other times. */
const RIDERS = 4;
const FRAMES = 12;
const ROUNDS = 3;
const POOL_FRAMES = 48;
const TIME_LIMIT_MS = 60_000;

interface BenchFrame {
  readonly path: string;
  readonly fileId: FileId;
}

export const benchMeasure = async (): Promise<Figures> => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-bench-measure-'));
  try {
    const frames = await makeFrames(folder);
    const { ratio, spread, wholeMs, aloneMs } = await ratioToCalls(frames, folder);
    const framesPerSecond = await throughPool(frames, folder);
    const workers = cpus().length;
    return {
      'measure.ratioToDecodeAndInference': {
        value: ratio,
        unit: '×',
        better: 'lower',
        note: `metadata, frame id, pixels and small picture (${wholeMs.toFixed(0)} ms) ÷ decode and networks (${aloneMs.toFixed(0)} ms) a frame; rounds ${spread}; half with an MPF preview, 24 megapixels`,
      },
      'measure.framesPerSecond': {
        value: framesPerSecond,
        unit: 'frames/s',
        better: 'higher',
        note: `${workers} children on ${workers} cores: ${(framesPerSecond / workers).toFixed(1)} a core`,
      },
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};

const makeFrames = async (folder: string): Promise<BenchFrame[]> => {
  const names = (await readdir(DEMO_FRAMES)).filter((name) => name.endsWith('.jpg')).sort();
  if (names.length < RIDERS) throw new Error('expected the frames of the invented meeting in demo/frames/morning-b');
  const step = Math.floor(names.length / RIDERS);
  const scenes: { full: Buffer; preview: Buffer }[] = [];
  for (let rider = 0; rider < RIDERS; rider += 1) {
    const scene = await readFile(new URL(names[rider * step] as string, DEMO_FRAMES));
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

/** One round of whole measurings and one of bare calls, frame by frame in turn, so that both meet the same machine. */
const ratioToCalls = async (frames: readonly BenchFrame[], folder: string) => {
  const measurer = await createMeasurer({ pictureFolder: join(folder, 'pictures') });
  const vision = await openVision();
  sharp.concurrency(1);
  try {
    await oneRound(frames.slice(0, 2), measurer, vision);
    const rounds = [];
    for (let round = 0; round < ROUNDS; round += 1) rounds.push(await oneRound(frames, measurer, vision));
    const ratios = rounds.map(({ whole, alone }) => whole / alone).sort((a, b) => a - b);
    const middle = rounds.find(({ whole, alone }) => whole / alone === ratios[Math.floor(ROUNDS / 2)]);
    return {
      ratio: ratios[Math.floor(ROUNDS / 2)] as number,
      spread: `${ratios[0]?.toFixed(2)}–${ratios.at(-1)?.toFixed(2)}`,
      wholeMs: (middle?.whole ?? 0) / frames.length,
      aloneMs: (middle?.alone ?? 0) / frames.length,
    };
  } finally {
    await Promise.all([measurer.close(), vision.close()]);
  }
};

const oneRound = async (frames: readonly BenchFrame[], measurer: Measurer, vision: Vision) => {
  let whole = 0;
  let alone = 0;
  for (const [index, frame] of frames.entries()) {
    const metadata = await readMetadata(frame.path, frame.fileId);
    const measureWhole = async () => {
      whole += await timed(() => measureOne(frame, measurer));
    };
    const callsAlone = async () => {
      alone += await timed(() => decodeAndInfer(frame.path, metadata, vision));
    };
    // Who goes first changes from frame to frame: the second finds the file in warmer caches.
    for (const run of index % 4 < 2 ? [measureWhole, callsAlone] : [callsAlone, measureWhole]) await run();
  }
  return { whole, alone };
};

const measureOne = async ({ path, fileId }: BenchFrame, measurer: Measurer): Promise<void> => {
  const answer = await measurer.handle({ kind: 'metadata', path, fileId });
  if (answer.kind !== 'metadata') throw new Error('expected metadata');
  const { metadata } = answer;
  const measured = await measurer.handle({ kind: 'pixels', path, metadata, tier: 'preview' });
  if (measured.kind !== 'pixels' || measured.pixels.kind !== 'measured') throw new Error('expected pixels');
};

const decodeAndInfer = async (path: string, metadata: FileMetadata, vision: Vision): Promise<void> => {
  const { image } = await decodeForMeasuring(path, metadata);
  for (const { box, what } of findSubjects(await vision.detect(image))) {
    if (what === 'motorcycle') await vision.describe(image, rectOf(box, image));
  }
};

const timed = async (work: () => Promise<void>): Promise<number> => {
  const start = performance.now();
  await work();
  return performance.now() - start;
};

/** Whole measurings through the pool as the program runs it; starting the children is not counted. */
const throughPool = async (frames: readonly BenchFrame[], folder: string): Promise<number> => {
  const options = { workers: cpus().length, pictureFolder: join(folder, 'pool'), timeLimitMs: TIME_LIMIT_MS };
  const pool = createMeasurePool(options);
  const measure = async (frame: BenchFrame): Promise<void> => {
    const answer = await pool.measure({ kind: 'metadata', ...frame });
    if (answer.kind !== 'metadata') throw new Error('expected metadata');
    await pool.measure({ kind: 'pixels', path: frame.path, metadata: answer.metadata, tier: 'preview' });
  };
  try {
    await Promise.all(frames.map(measure));
    const many = Array.from({ length: POOL_FRAMES }, (_, index) => frames[index % frames.length] as BenchFrame);
    const start = performance.now();
    await Promise.all(many.map(measure));
    return (POOL_FRAMES * 1000) / (performance.now() - start);
  } finally {
    await pool.close();
  }
};
