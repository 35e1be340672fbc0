/** Measuring against its decode and inference calls alone, and how many frames a second the pool measures. */
import { mkdtemp, rm } from 'node:fs/promises';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { createMeasurePool } from '../../src/host/measure/index.js';
import type { Figures } from '../../tools/figures.js';
import { type BenchFrame, makeFrames } from './frames.js';
import { type RatioToCalls, ratioToCalls } from './ratioToCalls.js';
import { type RatioToFirst, ratioToFirst } from './ratioToFirst.js';

const POOL_FRAMES = 48;
const TIME_LIMIT_MS = 60_000;

export const benchMeasure = async (): Promise<Figures> => {
  const folder = await mkdtemp(join(tmpdir(), 'tyrewall-bench-measure-'));
  try {
    const frames = await makeFrames(folder);
    const costs = await ratioToCalls(frames, folder);
    const toFirst = await ratioToFirst(frames);
    const framesPerSecond = await throughPool(frames, folder);
    const workers = cpus().length;
    return {
      'measure.ratioToDecodeAndInference': {
        value: costs.whole.wallMs / costs.calls.wallMs,
        unit: '×',
        better: 'lower',
        note: ratioNote(costs),
      },
      'measure.ratioToFirstVersion': {
        value: toFirst.today / toFirst.first,
        unit: '×',
        better: 'lower',
        note: firstNote(toFirst),
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

const ratioNote = ({ whole, calls, bare, spread }: RatioToCalls): string =>
  [
    `metadata, frame id, pixels and small picture (${whole.wallMs.toFixed(0)} ms) ÷ the same decode and vision calls alone (${calls.wallMs.toFixed(0)} ms) a frame`,
    `rounds ${spread[0].toFixed(2)}–${spread[1].toFixed(2)}`,
    `CPU time ${whole.cpuMs.toFixed(0)} ÷ ${calls.cpuMs.toFixed(0)} ms = ${(whole.cpuMs / calls.cpuMs).toFixed(2)}`,
    `to decode and bare network runs ${(whole.wallMs / bare.wallMs).toFixed(2)}, CPU ${(whole.cpuMs / bare.cpuMs).toFixed(2)}`,
    'half with an MPF preview, 24 megapixels',
  ].join('; ');

const firstNote = ({ today, withoutNumbers, first }: RatioToFirst): string =>
  `decode and measure a frame: ${today.toFixed(0)} ms ÷ ${first.toFixed(0)} ms; without reading numbers ${withoutNumbers.toFixed(0)} ms = ${(withoutNumbers / first).toFixed(2)}`;

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
