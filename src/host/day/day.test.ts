import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { afterAll, afterEach, describe, expect, it, vi } from 'vitest';
import type { Fill, FillFile } from '../../core/bringin/types.js';
import type { FileId, FillId, FrameId, GestureId } from '../../core/ids.js';
import type { FileMetadata, FrameMeasured, Subject } from '../../core/measure/types.js';
import { METADATA_VERSION, PIXELS_VERSION } from '../../core/measure/versions.js';
import { epochMsOf } from '../../core/units.js';
import type { BringInReport } from '../bringin/index.js';
import { newGestureId } from '../logbook/index.js';
import type { MeasureJob, MeasurePool } from '../measure/types.js';
import { createMeeting, type OpenMeeting, openMeeting } from '../meeting/index.js';
import { announcer } from './announcer.js';
import { arrangerInThread, inPlaceArranger } from './arranger.js';
import { nothingDerived } from './derive.js';
import { type DayOptions, derive, openDay } from './index.js';
import { keepArranged } from './keepArranged.js';
import type { Day, DayEvent } from './types.js';
import { wallNowAt } from './wallNow.js';

const root = mkdtempSync(join(tmpdir(), 'tyrewall-day-'));
const opened: { close(): Promise<void> }[] = [];
afterEach(async () => {
  vi.useRealTimers();
  for (const one of opened.splice(0).reverse()) await one.close();
});
afterAll(() => rmSync(root, { recursive: true, force: true }));

/** `b2-3`: the third frame of the second burst; bursts are ten seconds apart, their frames a quarter. */
const frameName = (burst: number, shot: number): string => `b${burst}-${shot}`;
const namesOf = (bursts: number, shots: number): string[] =>
  Array.from({ length: bursts * shots }, (_, i) => frameName(Math.floor(i / shots), i % shots));

function metadataOf(name: string): FileMetadata {
  const [burst = 0, shot = 0] = name.slice(1).split('-').map(Number);
  const second = burst * 10 + Math.floor(shot / 4);
  const clock = [Math.floor(second / 3600) + 9, Math.floor(second / 60) % 60, second % 60];
  const text = `2026:06:06 ${clock.map((part) => String(part).padStart(2, '0')).join(':')}`;
  return {
    v: METADATA_VERSION,
    fileId: `file ${name}` as FileId,
    frameId: `frame-${name}` as FrameId,
    media: 'jpeg',
    bytes: 1,
    captured: { kind: 'recorded', text, subSec: String((shot % 4) * 25).padStart(2, '0') },
    body: { make: 'Invented', model: 'One', serial: '7' },
    lens: {},
    exposure: {},
    notes: [],
  };
}

function pixelsOf(frameId: FrameId, tier: 'preview' | 'full'): FrameMeasured {
  const box = [0.3, 0.3, 0.4, 0.4] as const;
  const subject: Subject = {
    what: 'motorcycle',
    box,
    bikeBox: box,
    score: 0.9,
    isMain: true,
    isCut: false,
    bikeColours: [{ name: 'red', share: 1, lab: [50, 60, 40] }],
    riderColours: [],
    sharpness: { alongX: 1, alongY: 1, overall: 0.8, scalePx: 640 },
    descriptor: Buffer.from(new Int8Array(96).fill(12)).toString('base64'),
  };
  return {
    kind: 'measured',
    v: PIXELS_VERSION,
    frameId,
    tier,
    source: tier === 'full' ? 'full' : 'mpf-preview',
    subjects: [subject],
    dividerScore: 0,
    sceneDescriptor: '',
    meanLuminance: 0.4,
    clippedShare: 0,
  };
}

interface FakePool extends MeasurePool {
  readonly jobs: MeasureJob[];
}

/** Measures by name, in the order asked; refuses what `isBroken` says. */
function fakePool(isBroken: (job: MeasureJob) => boolean = () => false, pictureFolder?: string): FakePool {
  const jobs: MeasureJob[] = [];
  return {
    jobs,
    workers: 2,
    async measure(job) {
      jobs.push(job);
      await new Promise((resolve) => setImmediate(resolve));
      if (isBroken(job)) throw new Error(`The measurer could not start for ${job.path}.`);
      if (job.kind === 'metadata') {
        return { kind: 'metadata', fileId: job.fileId, metadata: metadataOf(job.fileId.slice('file '.length)) };
      }
      const { frameId } = job.metadata;
      if (pictureFolder !== undefined) writeFileSync(join(pictureFolder, `${frameId}.jpg`), '');
      return { kind: 'pixels', frameId, pixels: pixelsOf(frameId, job.tier) };
    },
    close: async () => undefined,
  };
}

const jobName = (job: MeasureJob): string =>
  job.kind === 'metadata' ? `metadata ${job.fileId.slice(5)}` : `${job.tier} ${job.metadata.frameId.slice(6)}`;

const fillOf = (names: readonly string[], id = 'fill-1'): Fill => ({
  id: id as FillId,
  folder: id,
  firstBroughtIn: epochMsOf(0),
  generations: 1,
  files: names.map(
    (name): FillFile => ({
      path: `DCIM/${name}.JPG`,
      bytes: 1,
      modified: epochMsOf(0),
      fileId: `file ${name}` as FileId,
    }),
  ),
});

let made = 0;
interface Place {
  readonly folder: string;
  readonly stateRoot: string;
  readonly fills: Fill[];
}
async function place(...fills: Fill[]): Promise<Place> {
  made++;
  const folder = join(root, `meeting ${made}`);
  const day = { firstDay: '2026-06-06', lastDay: '2026-06-06', zone: 'Europe/London' };
  await createMeeting(folder, {
    name: 'Larchfield open day',
    ...day,
    spots: [{ id: 'gannet', number: 1, name: 'Gannet' }],
  });
  for (const fill of fills) layOut(folder, fill);
  return { folder, stateRoot: join(root, `state ${made}`), fills };
}
function layOut(folder: string, fill: Fill): void {
  for (const { path } of fill.files) {
    const absolute = join(folder, 'cards', fill.folder, path);
    mkdirSync(dirname(absolute), { recursive: true });
    writeFileSync(absolute, '');
  }
  // The index asks the manifests' names and times whether the fills are still the same ones.
  mkdirSync(join(folder, 'cards', fill.folder, 'ascmhl'), { recursive: true });
  writeFileSync(join(folder, 'cards', fill.folder, 'ascmhl', `${fill.generations}.mhl`), '');
}

async function live(at: Place, options: DayOptions = {}, looking = false): Promise<{ meeting: OpenMeeting; day: Day }> {
  const { folder, stateRoot } = at;
  const meeting = await openMeeting(folder, { stateRoot, isForLooking: looking, readFills: async () => [...at.fills] });
  opened.push(meeting);
  const day = await openDay(meeting, { pool: fakePool(), arranger: inPlaceArranger(derive), ...options });
  opened.push(day);
  return { meeting, day };
}
/** Closes what the test has opened, as at the end of an evening. */
const closeAll = async (): Promise<void> => {
  for (const one of opened.splice(0).reverse()) await one.close();
};

describe('measuring what is missing', () => {
  it('LB41: metadata of every file first, then one frame of each burst, then the rest, then the best in full', async () => {
    const pool = fakePool();
    const { day } = await live(await place(fillOf(namesOf(4, 3))), { pool });
    const state = await day.settled();
    const jobs = pool.jobs.map(jobName);
    expect(jobs.slice(0, 12).every((job) => job.startsWith('metadata '))).toBe(true);
    expect(jobs.slice(12, 16).map((job) => job.slice(0, 10))).toEqual([
      'preview b0',
      'preview b1',
      'preview b2',
      'preview b3',
    ]);
    expect(jobs.slice(16, 24).every((job) => job.startsWith('preview '))).toBe(true);
    expect(jobs.slice(24).every((job) => job.startsWith('full '))).toBe(true);
    expect(jobs.slice(24).length).toBeGreaterThan(0);
    expect(new Set(jobs).size).toBe(jobs.length);
    expect(state).toMatchObject({ toMeasure: { left: 0, secondsLeft: 0 } });
    expect(state.arrangement.exposures).toHaveLength(12);
    expect(state.arrangement.exposures.every(({ role }) => role === 'bike')).toBe(true);
  });

  it('LB42: opened again, nothing is measured twice, with or without the state folder', async () => {
    const at = await place(fillOf(namesOf(3, 2)));
    const first = await live(at);
    const before = await first.day.settled();
    await closeAll();
    for (const isStateLost of [false, true]) {
      if (isStateLost) rmSync(at.stateRoot, { recursive: true });
      const pool = fakePool();
      const { day } = await live(at, { pool });
      const after = await day.settled();
      expect(pool.jobs.map(jobName)).toEqual([]);
      expect(after.arrangement).toEqual(before.arrangement);
      expect(after.coverage).toEqual(before.coverage);
      await closeAll();
    }
  });

  it('LB43: a measurer that fails for one file costs that file; the rest goes on and it is said', async () => {
    const pool = fakePool((job) => job.path.includes('b1-0'));
    const { day } = await live(await place(fillOf(namesOf(3, 2))), { pool });
    const state = await day.settled();
    expect(day.notices()).toEqual([expect.stringMatching(/could not start for .*b1-0\.JPG/)]);
    expect(state.metadata.size).toBe(5);
    expect(state.pixels.size).toBe(5);
  });

  it('LB44: files on a disk that is not there are not remembered as bad pictures', async () => {
    const at = await place(fillOf(namesOf(2, 2)));
    rmSync(join(at.folder, 'cards', 'fill-1', 'DCIM', 'b0-0.JPG'));
    const { day } = await live(at);
    await day.settled();
    expect(day.notices()).toEqual([expect.stringContaining('Expected 1 file of this meeting')]);
    await closeAll();
    layOut(at.folder, at.fills[0] as Fill);
    const again = await live(at);
    expect((await again.day.settled()).pixels.size).toBe(4);
    expect(again.day.notices()).toEqual([]);
  });

  it('LB42: a small picture that was deleted with the state folder is made again when it is asked for', async () => {
    const at = await place(fillOf(namesOf(1, 1)));
    const { meeting, day } = await live(at);
    await day.settled();
    const frame = 'frame-b0-0' as FrameId;
    expect(await day.picture(frame)).toBeNull();
    expect(day.original(frame)).toBe(join(at.folder, 'cards', 'fill-1', 'DCIM', 'b0-0.JPG'));
    expect(day.original('frame-unknown' as FrameId)).toBeNull();
    await closeAll();
    const pictures = join(meeting.stateFolder, 'pictures');
    const pool = fakePool(() => false, pictures);
    const again = await live(at, { pool });
    const asked = await Promise.all([again.day.picture(frame), again.day.picture(frame)]);
    expect(asked).toEqual([join(pictures, `${frame}.jpg`), join(pictures, `${frame}.jpg`)]);
    expect(pool.jobs).toHaveLength(1);
  });
});

describe('cards coming in', () => {
  const report = { cards: [], refused: [] } satisfies BringInReport;

  it('LB45: a file is measured as soon as its bytes stand, before the card is finished', async () => {
    const at = await place();
    const fill = fillOf(namesOf(2, 2));
    layOut(at.folder, fill);
    let finish = (): void => undefined;
    const bringIn: DayOptions['bringIn'] = async (options) => {
      const [file] = fill.files as [FillFile];
      const absolutePath = join(at.folder, 'cards', fill.folder, file.path);
      options.onFileCopied?.({ ...file, fill: fill.id, folder: fill.folder, absolutePath });
      await new Promise<void>((resolve) => {
        finish = resolve;
      });
      at.fills.push(fill);
      return report;
    };
    const { day } = await live(at, { bringIn });
    const running = day.bringIn(['/card']);
    await vi.waitFor(() => expect(day.state().pixels.size).toBe(1));
    await vi.waitFor(() => expect(day.state().arrangement.exposures).toHaveLength(1));
    layOut(at.folder, { ...fill, generations: 2 });
    finish();
    await running;
    expect((await day.settled()).arrangement.exposures).toHaveLength(4);
  });

  it('BI74: that the machine may fall asleep is told while a card comes in, and gone when it is done', async () => {
    const at = await place();
    let finish = (): void => undefined;
    const bringIn: DayOptions['bringIn'] = async ({ onMayFallAsleep }) => {
      onMayFallAsleep?.('the helper was refused');
      await new Promise<void>((resolve) => {
        finish = resolve;
      });
      return report;
    };
    const { day } = await live(at, { bringIn });
    const heard: DayEvent[] = [];
    day.subscribe((event) => heard.push(event));
    const running = day.bringIn(['/card']);
    const sentence = expect.stringMatching(/^This machine may fall asleep .*\(the helper was refused\)/);
    expect(day.notices()).toEqual([sentence]);
    await vi.waitFor(() => expect(heard).toContainEqual({ kind: 'notice', sentence, isPassing: true }));
    finish();
    await running;
    expect(day.notices()).toEqual([]);
  });

  it('DK152: what was said of a card when it was done is known when the day is opened again', async () => {
    const at = await place();
    const progress = {
      card: '/card',
      fill: 'fill-1' as FillId,
      folder: 'card-1',
      filesTotal: 1,
      bytesTotal: 1,
      filesRead: 1,
      bytesRead: 1,
      copies: [{ disk: '/one', bytesWritten: 1, bytesReadBack: 1 }],
      troubles: ['A file is short.'],
      secondsLeft: null,
    };
    const verdict = { kind: 'keep', sentence: 'Keep this card as it is.', missing: [] } as const;
    const bringIn: DayOptions['bringIn'] = async ({ onProgress }) => {
      onProgress?.({ ...progress, state: 'copying', verdict: null });
      onProgress?.({ ...progress, state: 'finished', verdict });
      return report;
    };
    const { day } = await live(at, { bringIn, now: () => 1000 });
    await day.bringIn(['/card']);
    await closeAll();
    const again = await live(at, {});
    expect([...again.day.rememberedCards()]).toEqual([
      ['fill-1', { at: 1000, verdict, troubles: ['A file is short.'], disks: ['/one'] }],
    ]);
  });

  it('LB45: a file that did not stand in the end is not in the day', async () => {
    const at = await place();
    const fill = fillOf(namesOf(1, 2));
    layOut(at.folder, fill);
    const bringIn: DayOptions['bringIn'] = async (options) => {
      for (const file of fill.files) {
        const absolutePath = join(at.folder, 'cards', fill.folder, file.path);
        options.onFileCopied?.({ ...file, fill: fill.id, folder: fill.folder, absolutePath });
      }
      at.fills.push({ ...fill, files: fill.files.slice(1), generations: 2 });
      layOut(at.folder, { ...fill, generations: 2 });
      return { ...report, refused: [{ folder: '/second', sentence: 'The second disk is full.' }] };
    };
    const { day } = await live(at, { bringIn });
    await day.bringIn(['/card']);
    const state = await day.settled();
    expect(state.arrangement.exposures.map(({ frameId }) => frameId)).toEqual(['frame-b0-1']);
    expect(day.notices()).toEqual(['The second disk is full.']);
  });

  it('AR32: settled is only a day arranged with what it taught, also when a further card has come', async () => {
    const at = await place(fillOf(namesOf(4, 3)));
    const more = fillOf(
      namesOf(9, 3).filter((name) => name >= 'b4'),
      'fill-2',
    );
    const bringIn: DayOptions['bringIn'] = async () => {
      layOut(at.folder, more);
      at.fills.push(more);
      return report;
    };
    const { day } = await live(at, { bringIn });
    const logged = (state: Awaited<ReturnType<Day['settled']>>) =>
      state.log.inForce.flatMap(({ decision }) => (decision.kind === 'calibration' ? [decision.calibration] : []));
    const first = await day.settled();
    expect(logged(first)).toEqual([{ ...first.arrangement.calibration, files: 12, words: expect.any(Number) }]);
    await day.bringIn(['/card']);
    const whole = await day.settled();
    expect(whole.arrangement.exposures).toHaveLength(27);
    expect(logged(whole).slice(1)).toEqual([
      {},
      { ...whole.arrangement.calibration, files: 27, words: expect.any(Number) },
    ]);
    expect(await day.settled()).toBe(whole);
    await closeAll();
    const { day: later } = await live(at, {}, true);
    expect((await later.settled()).arrangement).toEqual(whole.arrangement);
  });

  it('LB46: a card that appears is brought in by itself, once while it is in hand, to every disk', async () => {
    const asked: (readonly string[])[] = [];
    let appear = (_: string): void => undefined;
    const watch: DayOptions['watch'] = (onCard) => {
      appear = onCard;
      return { stop: () => undefined };
    };
    const bringIn: DayOptions['bringIn'] = async ({ cards, destinations }) => {
      asked.push(cards, destinations);
      await new Promise((resolve) => setTimeout(resolve, 20));
      return report;
    };
    const at = await place();
    const second = join(root, `second ${made}`);
    const { day } = await live(at, { watch, bringIn, watchesForCards: true, otherDisks: [second] });
    appear('/media/card');
    appear('/media/card');
    await day.settled();
    expect(asked).toEqual([['/media/card'], [at.folder, second]]);
  });

  it('LB47: the second disk has the logbook too, and can be opened instead', async () => {
    const at = await place(fillOf(namesOf(1, 1)));
    const second = join(root, `other disk ${made}`);
    const { day } = await live(at, { otherDisks: [second, join(root, 'not', 'plugged in')] });
    await day.settled();
    await day.decide(newGestureId(), [{ kind: 'keep', file: 'file b0-0' as FileId }]);
    expect(existsSync(second)).toBe(false);
    await day.close();
    opened.pop();
    expect(readdirSync(second).sort()).toEqual(['log', 'measured', 'meeting.json']);
    expect(day.notices()).toEqual([expect.stringContaining('the disk that should hold it is not there. Plug it in')]);
  });
});

describe('decisions', () => {
  it('LB48: what is decided is in the log when it is answered, one gesture after the other is taken back, and what was taken back can be said again', async () => {
    const { day } = await live(await place(fillOf(namesOf(1, 2))));
    await day.settled();
    const file = 'file b0-0' as FileId;
    const gestures = ['one', 'two'] as GestureId[];
    await day.decide(gestures[0] as GestureId, [{ kind: 'leave-out', file }]);
    expect(day.state().log.gestures).toEqual(['one']);
    await day.decide(gestures[1] as GestureId, [{ kind: 'session-is', at: 1 as never, group: 'N' }]);
    expect((await day.settled()).keepers.leftOut).toHaveLength(1);
    await day.withdraw('two' as GestureId);
    expect(day.state().log.gestures).toEqual(['one']);
    const withdrawing = await day.withdraw('one' as GestureId);
    expect((await day.settled()).keepers.leftOut).toHaveLength(0);
    await day.withdraw(withdrawing);
    expect((await day.settled()).keepers.leftOut).toHaveLength(1);
  });

  it('LB49: looking only, nothing is measured or written, and every attempt says why', async () => {
    const at = await place(fillOf(namesOf(1, 2)));
    const pool = fakePool();
    const { day } = await live(at, { pool, otherDisks: [join(root, 'never made')], watchesForCards: true }, true);
    const state = await day.settled();
    expect(state.toMeasure.left).toBe(0);
    expect(pool.jobs).toEqual([]);
    await expect(day.decide(newGestureId(), [{ kind: 'keep', file: 'f' as FileId }])).rejects.toThrow(/looking only/);
    await expect(day.bringIn(['/card'])).rejects.toThrow(/looking only/);
    expect(existsSync(join(root, 'never made'))).toBe(false);
  });

  it('every change gives a new state with a later stamp; without one the state is the same object', async () => {
    const { day } = await live(await place());
    const before = await day.settled();
    expect(day.state()).toBe(before);
    await day.decide(newGestureId(), [{ kind: 'keep', file: 'f' as FileId }]);
    expect(day.state()).not.toBe(before);
    expect(day.state().asOf).toBeGreaterThan(before.asOf);
  });
});

describe('the resident arrangement', () => {
  it('LB50: a thread arranges as the same code does in place', async () => {
    const at = await place(fillOf(namesOf(3, 3)));
    const { day } = await live(at);
    const inPlace = await day.settled();
    await closeAll();
    const threaded = await live(at, { arranger: undefined as never });
    const state = await threaded.day.settled();
    expect(state.arrangement).toEqual(inPlace.arrangement);
    expect(state.keepers).toEqual(inPlace.keepers);
    await threaded.day.decide(newGestureId(), [{ kind: 'keep', file: 'f' as FileId }]);
    const later = await threaded.day.settled();
    expect(later.asOf).toBeGreaterThan(state.asOf);
    expect(later.arrangement).toBe(state.arrangement);
    expect(threaded.day.notices()).toEqual([]);
  });

  /** Arranges only what it was told in this life; dies the first time. */
  const DYING = `
    const { parentPort, workerData } = require('node:worker_threads');
    let files = 0;
    parentPort.on('message', (message) => {
      if (message.kind === 'news') { files += (message.news.files ?? []).length; return; }
      if (workerData.life === 1) process.exit(3);
      parentPort.postMessage({ kind: 'arranged', id: message.id, tookMs: files, changed: workerData.derived });
    });`;

  it('LB51: a worker that dies is started again with everything known, and the day goes on', async () => {
    let life = 0;
    const newWorker = () => new Worker(DYING, { eval: true, workerData: { life: ++life, derived: nothingDerived } });
    const { day } = await live(await place(fillOf(namesOf(2, 1))), {
      arranger: (_, everything) => arrangerInThread(newWorker, everything),
    });
    const state = await day.settled();
    expect(day.notices()).toEqual([expect.stringContaining('The arrangement stopped (code 3); it is started again')]);
    expect(life).toBe(2);
    await day.decide(newGestureId(), [{ kind: 'keep', file: 'f' as FileId }]);
    expect((await day.settled()).arrangedInMs).toBeGreaterThanOrEqual(2);
    expect(state.metadata.size).toBe(2);
  });

  it('LB51: an arrangement that throws leaves the last one standing and says so once', async () => {
    let isBroken = false;
    const at = await place(fillOf(namesOf(2, 1)));
    const { day } = await live(at, {
      arranger: inPlaceArranger((known, now) => {
        if (isBroken) throw new Error('No session could be found.');
        return derive(known, now);
      }),
    });
    const before = await day.settled();
    isBroken = true;
    await day.decide(newGestureId(), [{ kind: 'keep', file: 'f' as FileId }]);
    const after = await day.settled();
    expect(after.arrangement).toBe(before.arrangement);
    expect(day.notices()).toEqual(['No session could be found.']);
  });

  it('LB52: while frames stream in for an hour, arranging takes at most a fifth of the time, and ends up to date', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
    const MS_PER_FRAME = 0.4;
    let frames = 0;
    let arrangedFrames = 0;
    let spentMs = 0;
    let runs = 0;
    const arranging = keepArranged({
      arranger: {
        tell: () => undefined,
        arrange: async () => {
          const known = frames;
          runs++;
          await new Promise((resolve) => setTimeout(resolve, known * MS_PER_FRAME));
          spentMs += known * MS_PER_FRAME;
          return { derived: nothingDerived, tookMs: known };
        },
        close: async () => undefined,
      },
      wallNow: () => null,
      onArranged: ({ tookMs }) => {
        arrangedFrames = tookMs;
      },
      onTrouble: () => undefined,
    });
    const started = performance.now();
    for (let i = 0; i < 36_000; i++) {
      frames++;
      arranging.changed(false);
      await vi.advanceTimersByTimeAsync(100);
    }
    const streamedMs = performance.now() - started;
    // The rest after the last arrangement is not in the hour any more.
    const lastRunMs = arrangedFrames * MS_PER_FRAME;
    expect((spentMs - lastRunMs) / streamedMs).toBeLessThanOrEqual(0.2);
    expect(runs).toBeGreaterThan(50);
    arranging.hurry();
    await vi.advanceTimersByTimeAsync(36_000 * MS_PER_FRAME * 2 + 1);
    expect(arrangedFrames).toBe(36_000);
    expect(arranging.isCurrent()).toBe(true);
  });

  it("LB52: a person's word does not wait for the rest", async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
    let runs = 0;
    const arranging = keepArranged({
      arranger: {
        tell: () => undefined,
        arrange: () =>
          new Promise((resolve) => setTimeout(() => resolve({ derived: nothingDerived, tookMs: runs++ }), 1000)),
        close: async () => undefined,
      },
      wallNow: () => null,
      onArranged: () => undefined,
      onTrouble: () => undefined,
    });
    arranging.changed(false);
    await vi.advanceTimersByTimeAsync(1001);
    expect(runs).toBe(1);
    arranging.changed(false);
    await vi.advanceTimersByTimeAsync(1500);
    expect(runs).toBe(1);
    arranging.changed(true);
    await vi.advanceTimersByTimeAsync(1001);
    expect(runs).toBe(2);
  });
});

describe('announcing', () => {
  it('LB53: at most four times a second, and the newest is always told', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
    const told: { at: number; event: DayEvent }[] = [];
    const news = announcer();
    news.subscribe((event) => told.push({ at: performance.now(), event }));
    for (let i = 1; i <= 500; i++) {
      news.state(i);
      news.card({ card: i % 2 ? '/one' : '/two', filesRead: i } as never);
      await vi.advanceTimersByTimeAsync(10);
    }
    await vi.advanceTimersByTimeAsync(250);
    const moments = [...new Set(told.map(({ at }) => at))];
    for (let i = 4; i < moments.length; i++) {
      expect((moments[i] as number) - (moments[i - 4] as number)).toBeGreaterThanOrEqual(1000);
    }
    expect(moments.length).toBeGreaterThan(15);
    expect(told.at(-1)?.event).toEqual({ kind: 'state', asOf: 500 });
    const lastCards = told.filter(({ event }) => event.kind === 'card').slice(-2);
    expect(lastCards.map(({ event }) => event.kind === 'card' && event.progress.filesRead).sort()).toEqual([499, 500]);
  });

  it('LB53: every notice is told once; who has unsubscribed hears nothing', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'performance'] });
    const heard: DayEvent[] = [];
    const news = announcer();
    const leave = news.subscribe((event) => heard.push(event));
    news.notice('a');
    news.notice('b');
    await vi.advanceTimersByTimeAsync(300);
    leave();
    news.notice('c');
    await vi.advanceTimersByTimeAsync(300);
    expect(heard).toEqual([
      { kind: 'notice', sentence: 'a' },
      { kind: 'notice', sentence: 'b' },
    ]);
  });
});

it("LB54: now is the wall clock of the meeting's zone on its days, and nothing before and after", () => {
  const about = { zone: 'Europe/London', firstDay: '2026-06-06', lastDay: '2026-06-07' };
  // British Summer Time is UTC+1 in June (IANA time zone database).
  expect(wallNowAt(about, Date.UTC(2026, 5, 6, 11, 30))).toBe(Date.UTC(2026, 5, 6, 12, 30));
  expect(wallNowAt(about, Date.UTC(2026, 5, 5, 23, 30))).toBe(Date.UTC(2026, 5, 6, 0, 30));
  expect(wallNowAt(about, Date.UTC(2026, 5, 5, 22, 30))).toBeNull();
  expect(wallNowAt(about, Date.UTC(2026, 5, 7, 23, 30))).toBeNull();
});
