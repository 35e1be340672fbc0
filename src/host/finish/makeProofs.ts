/** Proofs of all keepers of a meeting, in `made/proofs/`. What nobody needs any more, or what was taken down, is removed. */
import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { boxesToMark, MIDDLE, type PicturePlan, planProof, proofWords } from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import { type Finisher, startFinisher } from './finisher.js';
import { type FinishOptions, type FinishState, originalsOf, shownKeepers, sourceOf } from './frames.js';
import { inputsOf } from './inputsOf.js';
import { looksOfMeeting } from './looks/index.js';
import { type MadePicture, makeEach, openMadeFolder, type PicturesReport, type PictureToMake } from './makeEach.js';
import { type OwnMark, ownMarkOf } from './marks/index.js';

export interface MakeProofsOptions extends FinishOptions {
  readonly longEdgePx?: number;
  /** As `markPicture` of the meeting, where it was said since the meeting was opened. */
  readonly markPicture?: string;
  /** Proofs of other keepers stay: these are some of them, not all. */
  readonly keepOthers?: boolean;
}

export interface ProofsReport extends Omit<PicturesReport, 'pictures'> {
  readonly proofs: ReadonlyMap<FrameId, MadePicture>;
  readonly removed: number;
}

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
  const folder = await openMadeFolder(options.meetingFolder, 'proofs');
  const { markPicture = state.about.markPicture } = options;
  const mark = await ownMarkOf(options.meetingFolder, markPicture === undefined ? {} : { markPicture });
  const jobs = jobsOf(state, options, folder, mark);
  const { pictures, ...report } = await makeEach(finisher, jobs, options);
  const removed = report.wasStopped || options.keepOthers ? 0 : await removeOthers(folder, jobs);
  return { ...report, removed, proofs: new Map(pictures.map((picture) => [picture.frameId, picture])) };
}

/** Their names hold what they were made of: one that is there is up to date. */
function jobsOf(
  state: FinishState,
  options: MakeProofsOptions,
  folder: string,
  mark: OwnMark | null,
): readonly PictureToMake[] {
  const places = originalsOf(state, options);
  const keepers = shownKeepers(state);
  const looksOf = options.looksOf ?? looksOfMeeting(state, new Set(keepers.map(({ frameId }) => frameId)));
  return keepers.map((exposure) => {
    const { frameId } = exposure;
    const said = state.arrangement.saidBikes.filter((bike) => bike.frameId === frameId).map((bike) => bike.box);
    const { about } = state;
    const { source, path } = sourceOf(exposure, places, 'camera');
    const isElsewhere = source.kind === 'elsewhere';
    const plan: PicturePlan = planProof(
      proofWords(exposure, { ...about, ...options.publishing }),
      {
        subjectBoxes: isElsewhere ? [MIDDLE] : boxesToMark(state.pixels.get(frameId), said),
        longEdgePx: options.longEdgePx ?? about.proofLongEdgePx,
        markText: about.markText,
        markPicture: mark?.picture,
        // What was finished elsewhere has its look already.
        look: isElsewhere ? undefined : looksOf(frameId)[0]?.look,
      },
      source,
    );
    const to = join(folder, `${frameId}-${inputsOf(frameId, plan)}.jpg`);
    return { frameId, original: path, plan, to, ...(mark && { markFile: mark.path }) };
  });
}

async function removeOthers(folder: string, jobs: readonly PictureToMake[]): Promise<number> {
  const wanted = new Set(jobs.map((job) => job.to));
  const others = (await readdir(folder))
    .filter((name) => /^[0-9a-f]{32}-[0-9a-f]{16}\.jpg$/.test(name))
    .map((name) => join(folder, name))
    .filter((path) => !wanted.has(path));
  await Promise.all(others.map((path) => rm(path, { force: true })));
  return others.length;
}
