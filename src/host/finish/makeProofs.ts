/**
 * Proofs of all keepers of a meeting. What is there already is left alone; what nobody needs any more, or what was
 * taken down, is removed. Stopped or killed at any point, the next run goes on from there.
 */
import { mkdir, readdir, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Exposure } from '../../core/arrange/types.js';
import { boxesToMark, type ProofPlan, type ProofWords, planProof, takedownsOf } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import type { DayState } from '../day/types.js';
import type { MeetingAbout } from '../meeting/types.js';
import { allEnded } from './allEnded.js';
import { removeUnfinished } from './atomically.js';
import { FinishError } from './finishError.js';
import { type Finisher, startFinisher } from './finisher.js';
import { inputsOf } from './inputsOf.js';
import { proofSizeOnDisk } from './proofSizeOnDisk.js';

/** What the meeting's own record does not hold and a published picture needs. */
export interface PublishingWords {
  /** Name of the event; else the meeting's name, with its circuit. */
  readonly event?: string;
  /** Where riders may write: an e-mail address or a web address. */
  readonly contact?: string;
  readonly usageTerms?: string;
}

export interface ProofProgress {
  readonly done: number;
  readonly total: number;
  readonly made: number;
  readonly failed: number;
}

export interface MakeProofsOptions {
  readonly meetingFolder: string;
  readonly publishing?: PublishingWords;
  /** Absolute path of a frame's main image; by default its place under `cards/`. */
  readonly originalOf?: (frame: FrameId) => string | null;
  readonly onProgress?: (progress: ProofProgress) => void;
  readonly signal?: AbortSignal;
  /** How many are made at once, each in a process of its own; by default one a core. */
  readonly atOnce?: number;
}

export interface Proof {
  readonly frameId: FrameId;
  readonly path: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface ProofsReport {
  readonly proofs: ReadonlyMap<FrameId, Proof>;
  readonly made: number;
  readonly alreadyThere: number;
  readonly failed: readonly { readonly frameId: FrameId; readonly sentence: string }[];
  readonly removed: number;
  /** Stopped by its signal before all were made; run it again to go on. */
  readonly wasStopped: boolean;
}

/** The parts of a day's state that finishing needs. */
export type FinishState = Pick<DayState, 'about' | 'fills' | 'arrangement' | 'keepers' | 'log' | 'pixels'>;

/** Writes to `made/proofs/` in the meeting folder. */
export async function makeProofs(state: FinishState, options: MakeProofsOptions): Promise<ProofsReport> {
  const finisher = startFinisher(options.atOnce);
  try {
    return await makeProofsWith(finisher, state, options);
  } finally {
    await finisher.close();
  }
}

/** With children of the caller's own, for tests of what happens when one dies. */
export async function makeProofsWith(
  finisher: Finisher,
  state: FinishState,
  options: MakeProofsOptions,
): Promise<ProofsReport> {
  const folder = await openFolder(options.meetingFolder);
  const jobs = jobsOf(state, options, folder);
  const there = new Set(await readdir(folder));
  const report: Tally = { proofs: new Map(), made: 0, alreadyThere: 0, failed: [] };
  const say = () => {
    const { made, failed, proofs } = report;
    options.onProgress?.({ done: proofs.size + failed.length, total: jobs.length, made, failed: failed.length });
  };
  const queue = jobs.values();
  const work = async () => {
    for (const job of queue) {
      if (options.signal?.aborted) return;
      await doJob(job, there, report, finisher);
      say();
    }
  };
  await allEnded(Array.from({ length: finisher.workers }, work));
  const wasStopped = report.proofs.size + report.failed.length < jobs.length;
  const removed = wasStopped ? 0 : await removeOthers(folder, jobs, there);
  return { ...report, removed, wasStopped };
}

interface Job {
  readonly frameId: FrameId;
  readonly original: string | null;
  readonly plan: ProofPlan;
  readonly name: string;
  readonly to: string;
}

type Tally = { -readonly [Key in 'made' | 'alreadyThere']: number } & {
  readonly proofs: Map<FrameId, Proof>;
  readonly failed: { frameId: FrameId; sentence: string }[];
};

async function doJob(job: Job, there: ReadonlySet<string>, report: Tally, finisher: Finisher): Promise<void> {
  const known = there.has(job.name) ? await proofSizeOnDisk(job.to) : null;
  if (known) {
    report.proofs.set(job.frameId, { frameId: job.frameId, path: job.to, ...known });
    report.alreadyThere += 1;
    return;
  }
  if (job.original === null) {
    const sentence = `Expected a file for frame ${job.frameId}, but none of its cards is in this meeting folder.`;
    report.failed.push({ frameId: job.frameId, sentence });
    return;
  }
  const { frameId, original, plan, to } = job;
  const outcome = await finisher.run({ frameId, original, plan, to });
  if (outcome.kind === 'failed') report.failed.push({ frameId: outcome.frameId, sentence: outcome.sentence });
  else {
    report.proofs.set(outcome.frameId, outcome);
    report.made += 1;
  }
}

async function openFolder(meetingFolder: string): Promise<string> {
  const folder = join(meetingFolder, 'made', 'proofs');
  const meeting = await stat(meetingFolder).catch(() => null);
  if (!meeting?.isDirectory()) {
    throw new FinishError(`Expected the meeting folder at ${meetingFolder}, but there is no folder.`, meetingFolder);
  }
  await mkdir(folder, { recursive: true });
  await removeUnfinished(folder);
  return folder;
}

/** Every keeper's frame once, in the day's order, without what was taken down. */
function jobsOf(state: FinishState, options: MakeProofsOptions, folder: string): readonly Job[] {
  const kept = new Set([...state.keepers.byRider.values()].flat().map((keeper) => keeper.bike.frameId));
  const down = takedownsOf(state.arrangement, state.log).frames;
  const originalOf = options.originalOf ?? originalsOf(state, options.meetingFolder);
  return state.arrangement.exposures
    .filter(({ frameId }) => kept.has(frameId) && !down.has(frameId))
    .map((exposure) => {
      const plan = planOf(exposure, state, options.publishing ?? {});
      const name = `${exposure.frameId}-${inputsOf(exposure.frameId, plan)}.jpg`;
      return { frameId: exposure.frameId, original: originalOf(exposure.frameId), plan, name, to: join(folder, name) };
    });
}

function originalsOf(state: FinishState, meetingFolder: string): (frame: FrameId) => string | null {
  const folders = new Map(state.fills.map((fill) => [fill.id, fill.folder]));
  const exposures = new Map(state.arrangement.exposures.map((exposure) => [exposure.frameId, exposure]));
  return (frame) => {
    const exposure = exposures.get(frame);
    const fill = exposure && folders.get(exposure.fill);
    return fill === undefined ? null : join(meetingFolder, 'cards', fill, ...exposure!.path.split('/'));
  };
}

function planOf(exposure: Exposure, state: FinishState, publishing: PublishingWords): ProofPlan {
  const said = state.arrangement.saidBikes.filter((bike) => bike.frameId === exposure.frameId).map((bike) => bike.box);
  return planProof(wordsFor(exposure, state.about, publishing), boxesToMark(state.pixels.get(exposure.frameId), said));
}

export function wordsFor(exposure: Exposure, about: MeetingAbout, publishing: PublishingWords): ProofWords {
  const creator = about.creator ?? null;
  const credit = about.credit ?? about.creator ?? about.name;
  const year = about.firstDay.slice(0, 4);
  return {
    creator,
    credit,
    copyright: about.copyright ?? (creator === null ? null : `© ${year} ${creator}`),
    event: publishing.event ?? eventOf(about),
    contact: publishing.contact ?? null,
    usageTerms: publishing.usageTerms ?? `Proof, for looking at only. Not to be published or printed; ask ${credit}.`,
    captured: exposure.wall === null ? null : { wall: exposure.wall, instant: exposure.instant },
  };
}

/** The meeting's name, with its circuit where the name does not say it. */
const eventOf = ({ name, circuit }: MeetingAbout): string =>
  circuit === undefined || name.includes(circuit) ? name : `${name}, ${circuit}`;

async function removeOthers(folder: string, jobs: readonly Job[], there: ReadonlySet<string>): Promise<number> {
  const wanted = new Set(jobs.map((job) => job.name));
  const others = [...there].filter((name) => /^[0-9a-f]{32}-[0-9a-f]{16}\.jpg$/.test(name) && !wanted.has(name));
  await Promise.all(others.map((name) => rm(join(folder, name), { force: true })));
  return others.length;
}
