/**
 * Makes many pictures in children. What is there already is left alone; stopped or killed at any point, the next run
 * goes on from there.
 */
import { mkdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { PicturePlan } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import { allEnded } from './allEnded.js';
import { removeUnfinished } from './atomically.js';
import { FinishError } from './finishError.js';
import type { Finisher } from './finisher.js';
import { inputsOf } from './inputsOf.js';
import { standingPicture } from './standing.js';

export interface PictureToMake {
  readonly frameId: FrameId;
  /** Null where nothing of the frame is here. */
  readonly original: string | null;
  readonly plan: PicturePlan;
  /** Absolute path. */
  readonly to: string;
  /** Absolute path of the photographer's own mark, where the plan names one. */
  readonly markFile?: string;
}

export interface MadePicture {
  readonly frameId: FrameId;
  readonly path: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface PictureProgress {
  readonly done: number;
  readonly total: number;
  readonly made: number;
  readonly failed: number;
}

export interface PicturesReport {
  /** In the order they were asked for. */
  readonly pictures: readonly MadePicture[];
  readonly made: number;
  readonly alreadyThere: number;
  readonly failed: readonly { readonly frameId: FrameId; readonly sentence: string }[];
  /** Sentences about pictures that were made of something else than was wished. */
  readonly notes: readonly string[];
  /** Stopped by its signal before all were made; run it again to go on. */
  readonly wasStopped: boolean;
}

export interface MakingWish {
  readonly onProgress?: (progress: PictureProgress) => void;
  readonly signal?: AbortSignal;
}

/** `made/<name>` in the meeting folder, without what a killed run left. */
export async function openMadeFolder(meetingFolder: string, name: string): Promise<string> {
  const folder = join(meetingFolder, 'made', name);
  const meeting = await stat(meetingFolder).catch(() => null);
  if (!meeting?.isDirectory()) {
    throw new FinishError(`Expected the meeting folder at ${meetingFolder}, but there is no folder.`, meetingFolder);
  }
  await mkdir(folder, { recursive: true });
  await removeUnfinished(folder);
  return folder;
}

type Tally = { -readonly [Key in 'made' | 'alreadyThere']: number } & {
  readonly pictures: MadePicture[];
  readonly failed: { frameId: FrameId; sentence: string }[];
  readonly notes: string[];
};

export async function makeEach(
  finisher: Finisher,
  jobs: readonly PictureToMake[],
  { onProgress, signal }: MakingWish,
): Promise<PicturesReport> {
  const tally: Tally = { pictures: [], made: 0, alreadyThere: 0, failed: [], notes: [] };
  const done = () => tally.pictures.length + tally.failed.length;
  const queue = jobs.values();
  const work = async () => {
    for (const job of queue) {
      if (signal?.aborted) return;
      await makeOne(job, tally, finisher);
      onProgress?.({ done: done(), total: jobs.length, made: tally.made, failed: tally.failed.length });
    }
  };
  await allEnded(Array.from({ length: finisher.workers }, work));
  const place = new Map(jobs.map(({ to }, index) => [to, index]));
  const pictures = tally.pictures.toSorted((a, b) => place.get(a.path)! - place.get(b.path)!);
  return { ...tally, pictures, wasStopped: done() < jobs.length };
}

async function makeOne({ original, ...job }: PictureToMake, tally: Tally, finisher: Finisher) {
  const { frameId, plan, to } = job;
  const standing = await standingPicture(to);
  if (standing?.inputs === inputsOf(frameId, plan)) {
    tally.pictures.push({ frameId, path: to, ...standing.size });
    tally.alreadyThere += 1;
    return;
  }
  if (original === null) {
    const sentence = `Expected a file for frame ${frameId}, but none of its cards is in this meeting folder.`;
    tally.failed.push({ frameId, sentence });
    return;
  }
  const outcome = await finisher.run({ ...job, original });
  if (outcome.kind === 'failed') {
    tally.failed.push({ frameId: outcome.frameId, sentence: outcome.sentence });
    return;
  }
  const { path, widthPx, heightPx, note } = outcome;
  tally.pictures.push({ frameId, path, widthPx, heightPx });
  tally.made += 1;
  if (note !== null) tally.notes.push(note);
}
