/** Finals of a meeting's keepers, in `made/finals/`: whole, without a mark, named by time, body and number. Frames kept apart lie in a folder of their own there. */
import { mkdir, readdir, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Exposure } from '../../core/arrange/types.js';
import {
  APART_FOLDER,
  apartKeepers,
  finalWords,
  namesOf,
  PLAIN_LOOK,
  planFinal,
  ridersByFrame,
} from '../../core/finish/index.js';
import type { FrameId } from '../../core/ids.js';
import { type Finisher, startFinisher } from './finisher.js';
import { type FinishOptions, type FinishState, type NamedLook, originalsOf, shownKeepers, sourceOf } from './frames.js';
import { looksOfMeeting } from './looks/index.js';
import { makeEach, openMadeFolder, type PicturesReport, type PictureToMake } from './makeEach.js';
import { standingPicture } from './standing.js';

export interface MakeFinalsOptions extends FinishOptions {
  /** Null, and by default: as large as the original. */
  readonly longEdgePx?: number | null;
  /** Raws are developed where the frame has one; by default the camera's JPEG is used. */
  readonly from?: 'camera' | 'raw';
  /** Only these of the keepers; the finals of others stay as they are. */
  readonly only?: ReadonlySet<FrameId>;
  /** Absolute path of a folder that is there; by default `made/finals`, whose names and sizes are the photographer's own. */
  readonly folder?: string;
}

export interface FinalsReport extends PicturesReport {
  readonly folder: string;
  readonly removed: number;
  /** Of those for which a raw was wished, how many frames have none: the camera's JPEG was used. */
  readonly withoutRaw: number;
}

const AS_TAKEN: readonly NamedLook[] = [{ name: '', look: PLAIN_LOOK }];

export async function makeFinals(state: FinishState, options: MakeFinalsOptions): Promise<FinalsReport> {
  const finisher = startFinisher(options.atOnce);
  try {
    return await makeFinalsWith(finisher, state, options);
  } finally {
    await finisher.close();
  }
}

async function makeFinalsWith(
  finisher: Finisher,
  state: FinishState,
  options: MakeFinalsOptions,
): Promise<FinalsReport> {
  const folder = options.folder ?? (await openMadeFolder(options.meetingFolder, 'finals'));
  const jobs = jobsOf(state, options, folder);
  if (jobs.some(({ to }) => dirname(to) !== folder)) await mkdir(join(folder, APART_FOLDER), { recursive: true });
  const report = await makeEach(finisher, jobs, options);
  const isWhole = !report.wasStopped && options.only === undefined;
  const withoutRaw = options.from === 'raw' ? jobs.filter(({ plan }) => plan.source.kind === 'camera').length : 0;
  return { ...report, folder, withoutRaw, removed: isWhole ? await removeOthers(folder, jobs) : 0 };
}

function jobsOf(state: FinishState, options: MakeFinalsOptions, folder: string): readonly PictureToMake[] {
  const { longEdgePx = null, from = 'camera', only } = options;
  const places = originalsOf(state, options);
  const names = namesOf(state.arrangement.exposures);
  const riders = ridersByFrame(state.arrangement);
  const about = { ...state.about, ...options.publishing };
  const wanted = shownOf(state).filter(({ frameId }) => only?.has(frameId) ?? true);
  const looksOf = options.looksOf ?? looksOfMeeting(state, new Set(wanted.map(({ frameId }) => frameId)));
  return wanted.flatMap((exposure) => {
    const { frameId } = exposure;
    const own = exposure.apart === undefined ? folder : join(folder, APART_FOLDER);
    const { source, path } = sourceOf(exposure, places, from);
    const words = finalWords(exposure, about, state.arrangement, riders.get(frameId) ?? []);
    // What was finished elsewhere has its look already.
    const looks = source.kind === 'elsewhere' ? AS_TAKEN : looksOf(frameId);
    return looks.map(({ name, look }) => ({
      frameId,
      original: path,
      plan: planFinal(words, look, longEdgePx, source),
      to: join(own, `${[names.get(frameId)!, name].filter(Boolean).join('-')}.jpg`),
    }));
  });
}

/** Each once: of frames kept apart some are in a rider's set, too. */
function shownOf(state: FinishState): readonly Exposure[] {
  const shown = shownKeepers(state);
  const among = new Set(shown.map(({ frameId }) => frameId));
  return [...shown, ...apartKeepers(state.arrangement, state.log).filter(({ frameId }) => !among.has(frameId))];
}

/** Only pictures of ours: what else lies there is somebody's. */
async function removeOthers(folder: string, jobs: readonly PictureToMake[]): Promise<number> {
  const wanted = new Set(jobs.map((job) => job.to));
  const there = async (of: string): Promise<readonly string[]> =>
    (await readdir(of).catch(() => [])).map((name) => join(of, name));
  const others = [...(await there(folder)), ...(await there(join(folder, APART_FOLDER)))].filter(
    (path) => !wanted.has(path),
  );
  let removed = 0;
  for (const path of others) {
    if ((await standingPicture(path))?.inputs == null) continue;
    await rm(path);
    removed += 1;
  }
  return removed;
}
