/**
 * Feeds the measure pool: metadata of every file first, then frames in the order that shows every rider early.
 * What is left to do is derived from what is known, so there is no queue to get out of step with the folder.
 */
import { access } from 'node:fs/promises';
import type { FileId, FillId, FrameId } from '../../core/ids.js';
import type { FileMetadata, FrameMeasured, FrameMeasurement, MeasuredLine } from '../../core/measure/types.js';
import { METADATA_VERSION, PIXELS_VERSION } from '../../core/measure/versions.js';
import { epochMsOf } from '../../core/units.js';
import { type MeasureStep, measureOrder } from '../measure/index.js';
import type { MeasureAnswer, MeasureJob, MeasurePool } from '../measure/types.js';
import type { MeasuredStore } from '../meeting/types.js';
import { timeLeft } from './timeLeft.js';

/** A file of a fill as it lies on this machine. */
export interface FileHere {
  readonly fileId: FileId;
  readonly fill: FillId;
  /** Inside the fill. */
  readonly path: string;
  readonly absolutePath: string;
}

type KnownFileHere = FileHere & { readonly metadata: FileMetadata };

export interface MeasureRunner {
  /** Told again, a file is known already. */
  add(files: readonly FileHere[]): void;
  /** The few frames that full resolution is wanted for; measured when no preview is left to do. */
  wantFull(frames: ReadonlySet<FrameId>): void;
  left(): number;
  secondsLeft(): number | null;
  isIdle(): boolean;
  /** Waits for what is in hand to be written. */
  close(): Promise<void>;
}

export interface MeasureRunnerOptions {
  readonly pool: MeasurePool;
  readonly store: MeasuredStore;
  /** What the store now holds of this file or frame. */
  readonly onMeasured: (line: MeasuredLine) => void;
  readonly onIdle: () => void;
  readonly onTrouble: (sentence: string) => void;
  readonly now: () => number;
}

/** So that no child waits for this thread between two jobs. */
const JOBS_AHEAD = 2;
/** Making the order again goes through all files; it may take a twentieth of the time at most. */
const REST_PER_PLANNING = 20;

export function measureRunner(options: MeasureRunnerOptions): MeasureRunner {
  const { pool, store } = options;
  const files = new Map<FileId, FileHere>();
  const withoutMetadata = new Set<FileId>();
  const given = new Set<string>();
  const leftTime = timeLeft();
  let wanted: ReadonlySet<FrameId> = new Set();
  let plan: readonly MeasureStep<KnownFileHere>[] = [];
  let nextStep = 0;
  let isPlanOld = false;
  let plannedAt = Number.NEGATIVE_INFINITY;
  let planningTookMs = 0;
  let inHand = 0;
  let metadataInHand = 0;
  let isClosed = false;
  let missing = 0;
  const writing = new Set<Promise<void>>();

  const replan = (): void => {
    const start = performance.now();
    const known: KnownFileHere[] = [];
    for (const file of files.values()) {
      const metadata = store.metadata(file.fileId);
      if (metadata !== undefined) known.push({ ...file, metadata });
    }
    plan = measureOrder(known, soFar(store, given, wanted));
    nextStep = 0;
    isPlanOld = false;
    plannedAt = performance.now();
    planningTookMs = plannedAt - start;
  };
  const shouldReplan = (): boolean => {
    if (!isPlanOld) return false;
    const isUsedUp = nextStep >= plan.length;
    // Headers take milliseconds; without the last of them a whole burst would be missing from the order.
    if (isUsedUp && metadataInHand > 0) return false;
    return isUsedUp ? inHand === 0 || isRested() : isRested();
  };
  const isRested = (): boolean => performance.now() - plannedAt >= REST_PER_PLANNING * planningTookMs;

  const nextMetadataJob = (): MeasureJob | null => {
    for (const fileId of withoutMetadata) {
      withoutMetadata.delete(fileId);
      const file = files.get(fileId);
      if (file !== undefined) return { kind: 'metadata', path: file.absolutePath, fileId };
    }
    return null;
  };
  const nextPixelsJob = (): MeasureJob | null => {
    if (shouldReplan()) replan();
    while (nextStep < plan.length) {
      const { file, tier } = plan[nextStep++] as MeasureStep<KnownFileHere>;
      const key = `${tier} ${file.metadata.frameId}`;
      if (given.has(key)) continue;
      given.add(key);
      const job = { kind: 'pixels', path: file.absolutePath, metadata: file.metadata, tier } as const;
      const known = tier === 'full' ? measuredPreview(store, file.metadata.frameId) : undefined;
      return known === undefined ? job : { ...job, known };
    }
    return null;
  };

  const take = async (answer: MeasureAnswer): Promise<void> => {
    const at = epochMsOf(options.now());
    const line: MeasuredLine =
      answer.kind === 'metadata'
        ? { kind: 'metadata', at, metadata: answer.metadata }
        : { kind: 'pixels', at, pixels: keepingPreview(store, answer.pixels) };
    const written = store.append([line]);
    options.onMeasured(line);
    isPlanOld ||= answer.kind === 'metadata';
    if (answer.kind === 'pixels') leftTime.oneDone();
    writing.add(written);
    await written.catch((problem: Error) => options.onTrouble(problem.message));
    writing.delete(written);
    if (!isClosed && isIdle()) options.onIdle();
  };
  const isThere = (path: string): Promise<boolean> =>
    access(path).then(
      () => true,
      () => false,
    );
  /** Asking disks takes different times; the pool still gets the jobs in the order of the plan. */
  let lastAsked: Promise<boolean> = Promise.resolve(true);
  const isThereInTurn = (path: string): Promise<boolean> => {
    const before = lastAsked;
    const asked = isThere(path);
    lastAsked = before.then(() => asked);
    return lastAsked;
  };
  const run = async (job: MeasureJob): Promise<void> => {
    // An unplugged disk must not be remembered as a bad picture.
    if (!(await isThereInTurn(job.path))) missing++;
    else
      await pool.measure(job).then(
        (answer) => void take(answer),
        (problem: Error) => options.onTrouble(problem.message),
      );
    inHand--;
    if (job.kind === 'metadata') metadataInHand--;
    pump();
  };
  const pump = (): void => {
    while (!isClosed && inHand < pool.workers + JOBS_AHEAD) {
      const job = nextMetadataJob() ?? nextPixelsJob();
      if (job === null) break;
      inHand++;
      if (job.kind === 'metadata') metadataInHand++;
      void run(job);
    }
    if (inHand === 0 && !isClosed) rested();
  };
  const rested = (): void => {
    leftTime.rest();
    if (missing > 0) options.onTrouble(missingSentence(missing));
    missing = 0;
    options.onIdle();
  };
  const left = (): number => withoutMetadata.size + Math.max(0, plan.length - nextStep) + inHand;
  const isIdle = (): boolean => inHand === 0 && left() === 0 && !isPlanOld && writing.size === 0;

  return {
    add(added) {
      for (const file of added) {
        const isKnown = files.has(file.fileId);
        files.set(file.fileId, file);
        if (isKnown) continue;
        isPlanOld = true;
        if ((store.metadata(file.fileId)?.v ?? 0) < METADATA_VERSION) withoutMetadata.add(file.fileId);
      }
      pump();
    },
    wantFull(frames) {
      wanted = frames;
      isPlanOld = true;
      pump();
    },
    left,
    secondsLeft: () => leftTime.seconds(left()),
    isIdle,
    async close() {
      isClosed = true;
      await Promise.allSettled(writing);
    },
  };
}

function measuredPreview(store: MeasuredStore, frame: FrameId): FrameMeasured | undefined {
  const pixels = store.pixels(frame);
  return pixels?.kind === 'measured' && pixels.v === PIXELS_VERSION ? pixels : undefined;
}

/** Where full resolution cannot be read, what the preview gave stays in force, and says so: it is not tried again. */
function keepingPreview(store: MeasuredStore, pixels: FrameMeasurement): FrameMeasurement {
  if (pixels.kind === 'measured' || pixels.tier !== 'full') return pixels;
  const preview = measuredPreview(store, pixels.frameId);
  return preview === undefined ? pixels : { ...preview, tier: 'full', fullFailed: pixels.reason };
}

/** Frames of this version, and those given out in this run: a child that died of one is not asked twice. */
function soFar(store: MeasuredStore, given: ReadonlySet<string>, wantsFull: ReadonlySet<FrameId>) {
  const preview = new Set<FrameId>();
  const full = new Set<FrameId>();
  for (const [frame, pixels] of store.allPixels()) {
    if (pixels.v < PIXELS_VERSION) continue;
    if (pixels.kind === 'measured' || pixels.tier !== 'full') preview.add(frame);
    if (pixels.kind === 'unmeasurable' || pixels.tier === 'full') full.add(frame);
  }
  for (const key of given) {
    const [tier, frame] = key.split(' ') as ['preview' | 'full', FrameId];
    (tier === 'full' ? full : preview).add(frame);
  }
  return { preview, full, wantsFull };
}

const missingSentence = (count: number): string =>
  `Expected ${count} ${count === 1 ? 'file' : 'files'} of this meeting's cards on this disk but they are not there, so they were not measured. Plug in the disk that has them, or bring the card in again, and open the meeting anew.`;
