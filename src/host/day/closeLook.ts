/** The second tier of measuring as the day sees it: judges what deserves it when all is measured, and has crops at hand. */
import { join } from 'node:path';
import type { BikeRef } from '../../core/arrange/types.js';
import { bikeKeyOf } from '../../core/cover/index.js';
import type { FrameId } from '../../core/ids.js';
import { type BikeJudgement, type Judged, judgedByBike } from '../../core/judge/index.js';
import type { PixelRect } from '../../core/measure/images.js';
import { boundCrops, cropPath, isWholeCrop } from '../judge/index.js';
import type { CloseLooker } from '../measure/types.js';
import type { Meeting } from '../meeting/types.js';
import { bikesToJudge } from './bikesToJudge.js';
import { burstFrames, burstsOfPasses } from './burstsOfPasses.js';
import { cropsAhead } from './cropsAhead.js';
import { type Derived, nothingDerived, timetableOf } from './derive.js';
import { rememberingHeadings } from './headings.js';
import { type JudgeRunner, type Judging, judgeRunner, type MainFile, NOT_JUDGING } from './judgeRunner.js';
import type { CropAnswer } from './types.js';

export interface CloseLook {
  arranged(derived: Derived): void;
  /** Pixels of a frame are new. */
  measured(): void;
  /** Measuring is done, or files came. */
  goOn(): void;
  lookAt(bikes: readonly BikeRef[]): void;
  crop(frame: FrameId, rect: PixelRect): Promise<CropAnswer>;
  hasCrop(frame: FrameId, rect: PixelRect): Promise<boolean>;
  judged(): ReadonlyMap<string, Judged>;
  standing(): Judging;
  isIdle(): boolean;
  close(): Promise<void>;
}

export interface CloseLookOptions {
  readonly meeting: Meeting;
  /** Null where nothing can look at full resolution. */
  readonly looker: CloseLooker | null;
  /** Whether bikes are judged without being asked for. */
  readonly isByItself: boolean;
  readonly fileOf: (frame: FrameId) => MainFile | null;
  readonly mayRun: () => boolean;
  readonly onJudged: (bike: BikeJudgement) => void;
  /** Some were judged, and for now no more are: the time to choose again by them. */
  readonly onRested: () => void;
  readonly onTrouble: (sentence: string) => void;
  readonly now: () => number;
}

/** Choosing anew goes through the whole day. */
const JUDGED_A_REST = 60;
/** The cache is swept after so many crops of about a megabyte. */
const JUDGED_A_SWEEP = 200;
const MOST_LOOKED_AT = 120;

export function closeLook(options: CloseLookOptions): CloseLook {
  const { meeting, looker, fileOf, mayRun } = options;
  const cropFolder = join(meeting.stateFolder, 'crops');
  const pictureFolder = join(meeting.stateFolder, 'pictures');
  const headings = rememberingHeadings();
  let derived = nothingDerived;
  let lookedAt: readonly BikeRef[] = [];
  let judged: ReadonlyMap<string, Judged> | null = null;
  let [sinceRest, sinceSweep] = [0, 0];
  let sweeping: Promise<unknown> = Promise.resolve();

  const chosen = (): readonly BikeRef[] => [...derived.keepers.byRider.values()].flat().map(({ bike }) => bike);
  const rest = (): void => {
    if (sinceRest > 0) options.onRested();
    else ahead?.want([...lookedAt, ...(options.isByItself ? chosen() : [])]);
    sinceRest = 0;
  };
  const sweep = (): void => {
    sinceSweep = 0;
    const frames = new Set<string>([...lookedAt, ...chosen()].map(({ frameId }) => frameId));
    sweeping = boundCrops(cropFolder, (frame) => frames.has(frame)).catch((problem: Error) =>
      options.onTrouble(`The crops in ${cropFolder} could not be kept few (${problem.message}). Delete that folder.`),
    );
  };
  const onJudged = (bike: BikeJudgement): void => {
    judged = null;
    sinceRest += 1;
    sinceSweep += 1;
    options.onJudged(bike);
    if (sinceRest >= JUDGED_A_REST) rest();
    if (sinceSweep >= JUDGED_A_SWEEP) sweep();
  };
  const store = meeting.measured;
  const mayLook = looker !== null && meeting.isForLooking !== true;
  const runner: JudgeRunner | null = mayLook
    ? judgeRunner({ ...options, looker, store, cropFolder, onJudged, onIdle: rest })
    : null;
  const ahead = mayLook ? cropsAhead({ looker, cropFolder, fileOf, mayRun, store }) : null;
  const plan = (): void => {
    if (runner === null || !mayRun()) return;
    const soFar = { pixels: store.allPixels(), judgements: store.allJudged() };
    const log = meeting.log.folded();
    const heads = headings({ arrangement: derived.arrangement, log, timetable: timetableOf(log) });
    const bikes = bikesToJudge(options.isByItself ? derived : nothingDerived, soFar, lookedAt);
    const bursts = burstsOfPasses(derived.arrangement);
    runner.want(
      bikes.map((bike) => {
        const key = bikeKeyOf(bike);
        const burst = burstFrames(bursts.get(key) ?? [], store.allPixels(), pictureFolder);
        return { ...bike, heads: heads.get(key) ?? null, burst };
      }),
    );
  };
  const made = async (frame: FrameId, rect: PixelRect): Promise<CropAnswer> => {
    const file = fileOf(frame);
    if (looker === null || file === null) return { kind: 'no-crop', sentence: NO_ORIGINAL };
    const answer = await looker.look({ kind: 'crop', cropFolder, ...file, rect, isWaitedFor: true });
    return answer.kind === 'judge' ? { kind: 'no-crop', sentence: NO_ORIGINAL } : answer;
  };

  return {
    arranged(newest) {
      derived = newest;
      plan();
    },
    measured() {
      judged = null;
    },
    goOn() {
      runner?.goOn();
      plan();
    },
    lookAt(bikes) {
      // A screen asks for the rider it shows and for the next; the newest asking goes first.
      const newest = new Set(bikes.map(bikeKeyOf));
      const before = lookedAt.filter((bike) => !newest.has(bikeKeyOf(bike)));
      lookedAt = [...bikes, ...before].slice(0, MOST_LOOKED_AT);
      plan();
    },
    async crop(frame, rect) {
      const path = cropPath(cropFolder, frame, rect);
      if (await isWholeCrop(path)) return { kind: 'crop', path };
      return made(frame, rect).catch((problem: Error) => ({ kind: 'no-crop', sentence: problem.message }));
    },
    hasCrop: async (frame, rect) => fileOf(frame) !== null || isWholeCrop(cropPath(cropFolder, frame, rect)),
    judged: () => (judged ??= judgedByBike(store.allJudged(), store.allPixels())),
    standing: () => runner?.standing() ?? NOT_JUDGING,
    isIdle: () => runner?.isIdle() ?? true,
    async close() {
      ahead?.close();
      await runner?.close();
      await sweeping;
    },
  };
}

const NO_ORIGINAL =
  'Expected the original of this frame on this machine but it is not here, and no crop of it was kept. Plug in the disk that has it, or look at the small picture.';
