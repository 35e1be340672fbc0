import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { FileId, FillId, FrameId } from '../../core/ids.js';
import type { FileMetadata, FrameMeasured } from '../../core/measure/types.js';
import { METADATA_VERSION, PIXELS_VERSION } from '../../core/measure/versions.js';
import { openMeasuredStore } from '../logbook/index.js';
import type { MeasureAnswer, MeasureJob, MeasurePool } from '../measure/types.js';
import { type FileHere, measureRunner } from './measureRunner.js';

const FRAME = 'f'.repeat(32) as FrameId;
const REASON = 'Expected a whole picture but the decoder stopped.';

const metadata: FileMetadata = {
  v: METADATA_VERSION,
  fileId: 'a'.repeat(32) as FileId,
  frameId: FRAME,
  media: 'jpeg',
  bytes: 1,
  captured: { kind: 'absent', reason: 'no-capture-time' },
  body: {},
  lens: {},
  exposure: {},
  notes: [],
};

const preview: FrameMeasured = {
  kind: 'measured',
  v: PIXELS_VERSION,
  frameId: FRAME,
  tier: 'preview',
  source: 'mpf-preview',
  subjects: [],
  dividerScore: 0.25,
  sceneDescriptor: '',
  meanLuminance: 0.5,
  clippedShare: 0,
};

let folder: string;
let file: FileHere;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-runner-'));
  const absolutePath = join(folder, 'HX7_0001.JPG');
  await writeFile(absolutePath, 'x');
  file = { fileId: metadata.fileId, fill: 'fill' as FillId, path: 'HX7_0001.JPG', absolutePath };
});

afterEach(() => rm(folder, { recursive: true, force: true }));

/** Opens the measurements, measures all there is with full resolution wanted of the frame, and closes. */
const measureAll = async (answer: (job: MeasureJob) => MeasureAnswer, name = 'measured') => {
  const store = await openMeasuredStore(join(folder, name));
  const jobs: MeasureJob[] = [];
  const pool: MeasurePool = {
    workers: 1,
    measure: async (job) => {
      jobs.push(job);
      return answer(job);
    },
    close: async () => {},
  };
  const troubles: string[] = [];
  const runner = measureRunner({
    pool,
    store,
    onMeasured: () => {},
    onIdle: () => {},
    onTrouble: (sentence) => troubles.push(sentence),
    now: () => 1_780_000_000_000,
  });
  const isDone = () => vi.waitFor(() => expect(runner.isIdle()).toBe(true), { interval: 5, timeout: 20_000 });
  runner.add([file]);
  await isDone();
  // As after arranging: which frames full resolution is wanted of is known once there are previews.
  runner.wantFull(new Set([FRAME]));
  await isDone();
  await runner.close();
  const [pixels, of] = [store.pixels(FRAME), store.metadata(metadata.fileId)];
  await store.close();
  return { pixels, of, asked: jobs.map((job) => (job.kind === 'pixels' ? job.tier : 'metadata')), jobs, troubles };
};

const failingAtFull = (job: MeasureJob): MeasureAnswer => {
  if (job.kind === 'metadata') return { kind: 'metadata', fileId: job.fileId, metadata };
  if (job.tier === 'preview') return { kind: 'pixels', frameId: FRAME, pixels: preview };
  const failed = { kind: 'unmeasurable', v: PIXELS_VERSION, frameId: FRAME, tier: 'full', reason: REASON } as const;
  return { kind: 'pixels', frameId: FRAME, pixels: failed };
};

describe('a frame that fails at full resolution only', () => {
  it('MS15: keeps what its preview gave, says why, and is not tried again when the meeting is opened anew', async () => {
    const first = await measureAll(failingAtFull);
    expect(first.asked).toEqual(['metadata', 'preview', 'full']);
    expect(first.pixels).toEqual({ ...preview, tier: 'full', fullFailed: REASON });
    const second = await measureAll(failingAtFull);
    expect([second.asked, second.troubles]).toEqual([[], []]);
    expect(second.pixels).toEqual(first.pixels);
  });

  it('full resolution is asked for with what the preview gave, so that only sharpness is measured again', async () => {
    const { jobs } = await measureAll(failingAtFull);
    expect(jobs.at(-1)).toMatchObject({ tier: 'full', known: preview });
  });

  it("MS15: a failure at full resolution without a preview does not stand in the preview's way", async () => {
    const store = await openMeasuredStore(join(folder, 'measured'));
    const failed = { kind: 'unmeasurable', v: PIXELS_VERSION, frameId: FRAME, tier: 'full', reason: REASON } as const;
    await store.append([{ kind: 'pixels', at: 1 as never, pixels: failed }]);
    await store.close();
    const { asked, pixels } = await measureAll(failingAtFull);
    expect(asked).toEqual(['metadata', 'preview', 'full']);
    expect(pixels).toMatchObject({ kind: 'measured', dividerScore: preview.dividerScore });
  });
});

describe('metadata of an older version', () => {
  it('is read again, and nothing is measured again', async () => {
    const store = await openMeasuredStore(join(folder, 'older'));
    await store.append([
      { kind: 'metadata', at: 1 as never, metadata: { ...metadata, v: METADATA_VERSION - 1 } },
      { kind: 'pixels', at: 2 as never, pixels: { ...preview, tier: 'full' } },
    ]);
    await store.close();
    const flashed = { ...metadata, exposure: { flash: 'fired' } } as const;
    const withFlash = (job: MeasureJob): MeasureAnswer =>
      job.kind === 'metadata'
        ? { kind: 'metadata', fileId: job.fileId, metadata: flashed }
        : { kind: 'pixels', frameId: FRAME, pixels: preview };
    const { asked, of } = await measureAll(withFlash, 'older');
    expect(asked).toEqual(['metadata']);
    expect(of?.exposure.flash).toBe('fired');
    expect((await measureAll(withFlash, 'older')).asked).toEqual([]);
  });
});
