import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { FileId, FrameId } from '../../core/ids.js';
import type { FileMetadata } from '../../core/measure/types.js';
import { MeasureError } from './errors.js';
import { type Pool, startPool } from './pool.js';
import type { MeasureAnswer, MeasureJob } from './types.js';

const NASTY = new URL('../../../test/fixtures/metadata/nastyChild.ts', import.meta.url);
const BROKEN = new URL('../../../test/fixtures/metadata/brokenChild.ts', import.meta.url);

let folder: string;
let pool: Pool | null = null;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tyrewall-pool-'));
});

afterEach(async () => {
  await pool?.close();
  pool = null;
  await rm(folder, { recursive: true, force: true });
});

const start = (options: { workers?: number; timeLimitMs?: number; child?: URL } = {}): Pool => {
  pool = startPool(
    { workers: options.workers ?? 2, pictureFolder: folder, timeLimitMs: options.timeLimitMs ?? 30_000 },
    options.child ?? NASTY,
  );
  return pool;
};

const metadataJob = (name: string): MeasureJob => ({ kind: 'metadata', path: `/card/${name}`, fileId: name as FileId });
const pixelsJob = (name: string, tier: 'preview' | 'full' = 'preview'): MeasureJob => ({
  kind: 'pixels',
  path: `/card/${name}`,
  metadata: { frameId: name as FrameId } as FileMetadata,
  tier,
});

const notesOf = (answer: MeasureAnswer): string =>
  answer.kind === 'metadata'
    ? answer.metadata.notes.join(' ')
    : answer.pixels.kind === 'unmeasurable'
      ? answer.pixels.reason
      : '';

const jobLog = async () =>
  (await readFile(join(folder, 'jobs.log'), 'utf8'))
    .trim()
    .split('\n')
    .map((line) => {
      const [what, name, pid] = line.split(' ') as [string, string, string];
      return { what, name, pid };
    });

const begun = async (name: string): Promise<void> => {
  for (;;) {
    const log = await jobLog().catch(() => []);
    if (log.some((line) => line.name === name)) return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
};

describe('a pool of measuring children', () => {
  it('answers every job, several at once, in processes of their own', async () => {
    const names = Array.from({ length: 8 }, (_, index) => `slow-${index}.jpg`);
    const measuring = start();
    const answers = await Promise.all(names.map((name) => measuring.measure(metadataJob(name))));
    expect(answers.map((answer) => answer.kind === 'metadata' && answer.fileId)).toEqual(names);
    const pids = new Set((await jobLog()).map(({ pid }) => pid));
    expect(pids.size).toBe(2);
    expect(pids.has(String(process.pid))).toBe(false);
  });

  it('MS8: a file that kills its measurer is tried once more and then remembered with the reason', async () => {
    const answer = await start().measure(pixelsJob('kills.jpg'));
    expect(answer).toMatchObject({
      kind: 'pixels',
      frameId: 'kills.jpg',
      pixels: { kind: 'unmeasurable', frameId: 'kills.jpg', v: expect.any(Number) },
    });
    expect(notesOf(answer)).toMatch(/twice the measurer ended unexpectedly \(SIGKILL\).*The file is kept/);
    expect((await jobLog()).filter(({ what }) => what === 'begin')).toHaveLength(2);
  });

  it('MS8: metadata that kills the measurer is remembered as unreadable', async () => {
    const answer = await start().measure(metadataJob('kills.jpg'));
    expect(answer).toMatchObject({ metadata: { captured: { kind: 'absent', reason: 'unreadable' } } });
    expect(notesOf(answer)).toMatch(/twice the measurer/);
  });

  it('JU14: what kills the child that looks at it in full is tried once more and then remembered, or said', async () => {
    const looking = start();
    const file = { cropFolder: folder, path: '/card/kills.jpg', metadata: { frameId: 'kills.jpg' } as FileMetadata };
    const subject = { box: [0, 0, 1, 1], what: 'motorcycle' } as const;
    expect(await looking.look({ kind: 'judge', ...file, subject, others: [], burst: [], heads: null })).toMatchObject({
      kind: 'judge',
      bike: { kind: 'unjudgeable', frameId: 'kills.jpg', box: [0, 0, 1, 1], reason: expect.stringMatching(/twice/) },
    });
    const rect = { left: 0, top: 0, right: 10, bottom: 10 };
    expect(await looking.look({ kind: 'crop', ...file, rect, isWaitedFor: true })).toMatchObject({
      kind: 'no-crop',
      sentence: expect.stringMatching(/twice the measurer ended unexpectedly/),
    });
  });

  it('MS8: the second try is made with no other file in hand', async () => {
    const measuring = start();
    await Promise.all([
      measuring.measure(metadataJob('slow-a.jpg')),
      measuring.measure(metadataJob('kills.jpg')),
      ...['slow-b', 'slow-c', 'slow-d', 'slow-e'].map((name) => measuring.measure(metadataJob(`${name}.jpg`))),
    ]);
    const log = await jobLog();
    const second = log.findLastIndex(({ name }) => name === 'kills.jpg');
    const before = log.slice(0, second).filter(({ name }) => name !== 'kills.jpg');
    const running =
      before.filter(({ what }) => what === 'begin').length - before.filter(({ what }) => what === 'end').length;
    expect(running).toBe(0);
    const next = log.slice(second + 1).find(({ what }) => what === 'begin');
    expect(next?.name).toMatch(/^slow-/);
  });

  it('MS8: a file that outlasts the time limit is stopped, tried once more and then remembered', async () => {
    const answer = await start({ timeLimitMs: 500 }).measure(pixelsJob('hangs.jpg'));
    expect(notesOf(answer)).toMatch(/twice the measurer took too long and was stopped/);
  });

  it('MS9: a poisoned file costs itself alone; every other file is answered', async () => {
    const measuring = start();
    const names = ['a', 'b', 'kills-1', 'slow-1', 'c', 'slow-2', 'd'];
    const answers = await Promise.all(names.map((name) => measuring.measure(pixelsJob(`${name}.jpg`))));
    const spoilt = names.filter((_, index) => /twice/.test(notesOf(answers[index] as MeasureAnswer)));
    expect(spoilt).toEqual(['kills-1']);
  });

  it('MS9: a measurer that dies once, for whatever reason, costs nothing', async () => {
    const answer = await start().measure(pixelsJob('kills-once.jpg'));
    expect(notesOf(answer)).toMatch(/^by \d+$/);
  });

  it('MS9: kill -9 from outside in the middle of a job loses no file', async () => {
    const measuring = start();
    const names = Array.from({ length: 8 }, (_, index) => `slow-${index}.jpg`);
    const answers = Promise.all(names.map((name) => measuring.measure(pixelsJob(name))));
    await begun('slow-0.jpg');
    for (const pid of measuring.busyPids) process.kill(pid, 'SIGKILL');
    expect((await answers).map(notesOf).every((note) => /^by \d+$/.test(note))).toBe(true);
  });

  it('MS10: what does not lie in the file is an error and nothing to remember; the child goes on', async () => {
    const measuring = start({ workers: 1 });
    const trouble = measuring.measure(metadataJob('refuses.jpg'));
    await expect(trouble).rejects.toThrow(MeasureError);
    await expect(trouble).rejects.toMatchObject({ message: 'the disk is gone', path: '/card/refuses.jpg' });
    expect((await measuring.measure(metadataJob('good.jpg'))).kind).toBe('metadata');
    expect(new Set((await jobLog()).map(({ pid }) => pid)).size).toBe(1);
  });

  it('MS10: a measurer that cannot start is the program’s fault: every file gets an error, none is remembered', async () => {
    const measuring = start({ child: BROKEN });
    const jobs = ['a.jpg', 'b.jpg', 'c.jpg'].map((name) => measuring.measure(pixelsJob(name)));
    for (const outcome of await Promise.allSettled(jobs)) {
      expect(outcome).toMatchObject({
        status: 'rejected',
        reason: { name: 'MeasureError', message: expect.stringMatching(/to start but it ended.*models\/none\.onnx/) },
      });
    }
  });

  it('MS13: headers go before previews and previews before full resolution, however they were asked for', async () => {
    const measuring = start({ workers: 1 });
    await Promise.all([
      measuring.measure(pixelsJob('slow-first.jpg')),
      measuring.measure(pixelsJob('full.jpg', 'full')),
      measuring.measure(pixelsJob('preview.jpg')),
      measuring.measure(metadataJob('header.jpg')),
    ]);
    const order = (await jobLog()).filter(({ what }) => what === 'begin').map(({ name }) => name);
    expect(order).toEqual(['slow-first.jpg', 'header.jpg', 'preview.jpg', 'full.jpg']);
  });

  it('closed in the middle, it ends its children and says so for what was not answered', async () => {
    const measuring = start();
    const jobs = ['hangs-1.jpg', 'hangs-2.jpg', 'waits.jpg'].map((name) => measuring.measure(metadataJob(name)));
    const settled = Promise.allSettled(jobs);
    await Promise.all([begun('hangs-1.jpg'), begun('hangs-2.jpg')]);
    const pids = measuring.busyPids;
    await measuring.close();
    for (const outcome of await settled) expect(outcome.status).toBe('rejected');
    for (const pid of pids) expect(() => process.kill(pid, 0)).toThrow(/ESRCH/);
    await expect(measuring.measure(metadataJob('late.jpg'))).rejects.toThrow(/Measuring was stopped/);
  });
});
