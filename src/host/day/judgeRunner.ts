/**
 * Feeds the measuring children with bikes to be judged, while nothing is left to measure. What is left to do is derived from what
 * is known, so that stopping, or being killed, costs the bikes in hand at most.
 */
import { access } from 'node:fs/promises';
import type { FrameId } from '../../core/ids.js';
import { type BikeJudgement, judgementOf } from '../../core/judge/index.js';
import type { FileMetadata, FrameMeasurement, Subject } from '../../core/measure/types.js';
import { epochMsOf } from '../../core/units.js';
import type { BurstFrame } from '../judge/index.js';
import type { CloseLooker, LookAnswer } from '../measure/types.js';
import type { MeasuredStore } from '../meeting/types.js';
import { timeLeft } from './timeLeft.js';

export interface BikeWanted {
  readonly frameId: FrameId;
  /** Place among the frame's subjects. */
  readonly subject: number;
  /** Where it goes in the picture, where that is known beforehand. */
  readonly heads: 'left' | 'right' | null;
  /** It and its neighbours in time; empty where the burst was slow. */
  readonly burst: readonly BurstFrame[];
}

/** A frame's main image on this machine. */
export interface MainFile {
  readonly path: string;
  readonly metadata: FileMetadata;
}

export interface Judging {
  readonly left: number;
  readonly done: number;
  readonly secondsLeft: number | null;
  /** Bikes whose frames have no original on this machine. */
  readonly withoutOriginal: number;
  /** Why it stands still though not all is judged; null: it does not. */
  readonly heldUpBy: string | null;
}

export const NOT_JUDGING: Judging = { left: 0, done: 0, secondsLeft: 0, withoutOriginal: 0, heldUpBy: null };

export interface JudgeRunner {
  /** In this order, instead of what was wanted before. */
  want(bikes: readonly BikeWanted[]): void;
  /** Measuring is done, or a disk came back. */
  goOn(): void;
  standing(): Judging;
  /** Nothing more will be judged by itself. */
  isIdle(): boolean;
  close(): Promise<void>;
}

export interface JudgeRunnerOptions {
  readonly looker: CloseLooker;
  readonly store: MeasuredStore;
  readonly cropFolder: string;
  /** Null where this machine has none. */
  readonly fileOf: (frame: FrameId) => MainFile | null;
  /** Measuring goes first. */
  readonly mayRun: () => boolean;
  readonly onJudged: (bike: BikeJudgement) => void;
  readonly onIdle: () => void;
  readonly onTrouble: (sentence: string) => void;
  readonly now: () => number;
}

export function judgeRunner(options: JudgeRunnerOptions): JudgeRunner {
  const { looker, store } = options;
  const leftTime = timeLeft();
  const writing = new Set<Promise<void>>();
  /** Given out in this run: a bike whose file is at fault is stored, so none of these is asked twice. */
  const given = new Set<string>();
  const withoutOriginal = new Set<string>();
  let wanted: readonly BikeWanted[] = [];
  let next = 0;
  let inHand = 0;
  let done = 0;
  let isClosed = false;
  /** Trouble that lies in no file, a full disk for one: every further bike would meet it. */
  let heldUpBy: string | null = null;

  const nextBike = (): BikeWanted | null => {
    while (next < wanted.length) {
      const bike = wanted[next++]!;
      if (isOpen(bike)) return bike;
    }
    return null;
  };
  const isOpen = (bike: BikeWanted): boolean =>
    !given.has(keyOf(bike)) && !withoutOriginal.has(keyOf(bike)) && subjectsOf(store, bike) !== null;

  const run = async (bike: BikeWanted): Promise<void> => {
    const file = options.fileOf(bike.frameId);
    const subjects = subjectsOf(store, bike);
    if (subjects === null) return;
    if (file === null || !(await isThere(file.path))) {
      withoutOriginal.add(keyOf(bike));
      return;
    }
    given.add(keyOf(bike));
    const job = {
      kind: 'judge',
      cropFolder: options.cropFolder,
      ...file,
      ...subjects,
      heads: bike.heads,
      burst: bike.burst,
    } as const;
    const answer = await looker.look(job).catch((problem: Error) => problem);
    if (isClosed) return;
    if (answer instanceof Error) {
      given.delete(keyOf(bike));
      next = 0;
      heldUpBy = answer.message;
      options.onTrouble(answer.message);
    } else await take(answer);
  };
  const take = async (answer: LookAnswer): Promise<void> => {
    if (answer.kind !== 'judge') return;
    done += 1;
    leftTime.oneDone();
    const written = store.append([{ kind: 'judged', at: epochMsOf(options.now()), bike: answer.bike }]);
    options.onJudged(answer.bike);
    writing.add(written);
    await written.catch((problem: Error) => options.onTrouble(problem.message));
    writing.delete(written);
  };
  const pump = (): void => {
    while (!isClosed && heldUpBy === null && options.mayRun() && inHand < looker.workers) {
      const bike = nextBike();
      if (bike === null) break;
      inHand += 1;
      void run(bike).then(() => {
        inHand -= 1;
        pump();
      });
    }
    if (inHand > 0 || isClosed) return;
    leftTime.rest();
    if (left() === 0) options.onIdle();
  };
  const left = (): number => wanted.slice(next).filter(isOpen).length + inHand;

  return {
    want(bikes) {
      wanted = bikes;
      next = 0;
      pump();
    },
    goOn() {
      withoutOriginal.clear();
      heldUpBy = null;
      next = 0;
      pump();
    },
    standing: () => ({
      left: left(),
      done,
      secondsLeft: leftTime.seconds(left()),
      withoutOriginal: withoutOriginal.size,
      heldUpBy,
    }),
    isIdle: () => (left() === 0 || heldUpBy !== null) && inHand === 0 && writing.size === 0,
    async close() {
      isClosed = true;
      await Promise.allSettled(writing);
    },
  };
}

const keyOf = ({ frameId, subject }: BikeWanted): string => `${frameId}:${subject}`;

/** The bike as it was measured and what else is in its frame; null where it is judged, or not measured. */
function subjectsOf(
  store: MeasuredStore,
  { frameId, subject: index }: BikeWanted,
): { readonly subject: Subject; readonly others: readonly Subject[] } | null {
  const subject = measuredIn(store.pixels(frameId), index);
  if (subject === null || judgementOf(subject, store.allJudged().get(frameId)) !== undefined) return null;
  const { subjects } = store.pixels(frameId) as Extract<FrameMeasurement, { kind: 'measured' }>;
  return { subject, others: subjects.filter((_, at) => at !== index) };
}

const measuredIn = (pixels: FrameMeasurement | undefined, index: number): Subject | null =>
  pixels?.kind === 'measured' ? (pixels.subjects[index] ?? null) : null;

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );
