import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { FrameId } from '../../core/ids.js';
import { JUDGE_VERSION, type Judged } from '../../core/judge/index.js';
import type { Box, FileMetadata, FrameMeasured, Subject } from '../../core/measure/types.js';
import { PIXELS_VERSION } from '../../core/measure/versions.js';
import { epochMsOf } from '../../core/units.js';
import { openMeasuredStore } from '../logbook/index.js';
import type { LookAnswer, LookJob } from '../measure/types.js';
import { type Judging, judgeRunner } from './judgeRunner.js';

const BOX: Box = [0.3, 0.3, 0.4, 0.4];
const frameOf = (k: number): FrameId => k.toString(16).padStart(32, '0') as FrameId;
const FRAMES = [1, 2, 3, 4].map(frameOf);
const wanted = FRAMES.map((frameId) => ({ frameId, subject: 0, heads: null, burst: [] }));

const measured = (frameId: FrameId): FrameMeasured => ({
  kind: 'measured',
  v: PIXELS_VERSION,
  frameId,
  tier: 'preview',
  source: 'mpf-preview',
  subjects: [{ what: 'motorcycle', box: BOX } as unknown as Subject],
  dividerScore: 0,
  sceneDescriptor: '',
  meanLuminance: 0.5,
  clippedShare: 0,
});

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-judging-'));
  for (const frame of FRAMES) await writeFile(join(folder, frame), 'x');
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const judge = (job: LookJob): LookAnswer => ({
  kind: 'judge',
  bike: { kind: 'judged', v: JUDGE_VERSION, frameId: job.metadata.frameId, box: BOX, judged: { size: 0.3 } as Judged },
});

interface Run {
  readonly asked: FrameId[];
  readonly troubles: string[];
  standing(): Judging;
  goOn(): void;
  idle(): Promise<void>;
  close(): Promise<void>;
}

/** Opens the measurements and judges all four frames, as far as `look` goes. */
async function judging(look: (job: LookJob) => LookAnswer | Promise<LookAnswer>, mayRun = () => true): Promise<Run> {
  const store = await openMeasuredStore(join(folder, 'measured'));
  const at = epochMsOf(0);
  await store.append(FRAMES.map((frame) => ({ kind: 'pixels', at, pixels: measured(frame) })));
  const asked: FrameId[] = [];
  const troubles: string[] = [];
  const runner = judgeRunner({
    looker: {
      workers: 1,
      look: async (job) => {
        asked.push(job.metadata.frameId);
        return look(job);
      },
    },
    store,
    cropFolder: join(folder, 'crops'),
    fileOf: (frameId) => ({ path: join(folder, frameId), metadata: { frameId } as FileMetadata }),
    mayRun,
    onJudged: () => undefined,
    onIdle: () => undefined,
    onTrouble: (sentence) => troubles.push(sentence),
    now: () => 1_780_000_000_000,
  });
  runner.want(wanted);
  return {
    asked,
    troubles,
    standing: () => runner.standing(),
    goOn: () => runner.goOn(),
    idle: () => vi.waitFor(() => expect(runner.isIdle()).toBe(true), { interval: 5, timeout: 20_000 }),
    async close() {
      await runner.close();
      await store.close();
    },
  };
}

it('JU13: judges in the order wanted, and nothing that was judged before', async () => {
  const first = await judging(judge);
  await first.idle();
  expect(first.asked).toEqual(FRAMES);
  expect(first.standing()).toMatchObject({ left: 0, done: 4, heldUpBy: null });
  await first.close();
  const again = await judging(judge);
  await again.idle();
  expect(again.asked).toEqual([]);
  await again.close();
});

it('JU13: stopped between two bikes, the next run judges what is left', async () => {
  let closing: Promise<void> = Promise.resolve();
  const first = await judging((job) => {
    if (job.metadata.frameId === FRAMES[2]) closing = first.close();
    return judge(job);
  });
  await vi.waitFor(() => expect(first.asked).toHaveLength(3), { interval: 5, timeout: 20_000 });
  await closing;
  const next = await judging(judge);
  await next.idle();
  // The third was in hand when it stopped.
  expect(next.asked).toEqual(FRAMES.slice(2));
  await next.close();
});

it('JU13: gives way while there is something to measure', async () => {
  let isMeasuring = true;
  const run = await judging(judge, () => !isMeasuring);
  expect(run.standing()).toMatchObject({ left: 4, done: 0 });
  isMeasuring = false;
  run.goOn();
  await run.idle();
  expect(run.asked).toEqual(FRAMES);
  await run.close();
});

it('JU14: a frame whose original is not here is counted, not remembered, and judged once it is', async () => {
  await rm(join(folder, FRAMES[1]!));
  const run = await judging(judge);
  await run.idle();
  expect(run.standing()).toMatchObject({ left: 0, done: 3, withoutOriginal: 1 });
  await writeFile(join(folder, FRAMES[1]!), 'x');
  run.goOn();
  await run.idle();
  expect(run.standing()).toMatchObject({ done: 4, withoutOriginal: 0 });
  await run.close();
});

it('JU14: trouble that lies in no file stops it with its sentence, is said once, and is tried again when asked', async () => {
  let isFull = true;
  const run = await judging((job) => {
    if (isFull) throw new Error('The disk of the picture cache is full.');
    return judge(job);
  });
  await run.idle();
  expect(run.asked).toHaveLength(1);
  expect(run.troubles).toEqual(['The disk of the picture cache is full.']);
  expect(run.standing()).toMatchObject({ left: 4, heldUpBy: 'The disk of the picture cache is full.' });
  isFull = false;
  run.goOn();
  await run.idle();
  expect(run.standing()).toMatchObject({ left: 0, done: 4, heldUpBy: null });
  await run.close();
});

it('JU14: what is at fault itself is remembered and not tried again', async () => {
  const reason = 'Expected a whole picture but the decoder stopped.';
  const refuse = (job: LookJob): LookAnswer =>
    job.metadata.frameId === FRAMES[0]
      ? { kind: 'judge', bike: { kind: 'unjudgeable', v: JUDGE_VERSION, frameId: FRAMES[0], box: BOX, reason } }
      : judge(job);
  const first = await judging(refuse);
  await first.idle();
  await first.close();
  const again = await judging(judge);
  await again.idle();
  expect(again.asked).toEqual([]);
  await again.close();
});
