/** The way out carried out: copies, sidecars and the list. Stopped, or met by a full disk, it goes on where it was. */
import { stat } from 'node:fs/promises';
import { basename, extname, isAbsolute, relative, resolve } from 'node:path';
import { apartKeepers, type OutFrame, planWayOut, takedownsOf } from '../../../core/finish/index.js';
import type { FrameId } from '../../../core/ids.js';
import { FinishError } from '../finishError.js';
import { type FinishOptions, type FinishState, originalsOf } from '../frames.js';
import { OutFolder, type Piece, type TakenAway } from './outFolder.js';

export interface TakeOutOptions extends Pick<FinishOptions, 'meetingFolder' | 'originalOf' | 'publishing' | 'signal'> {
  readonly to: string;
  readonly which: 'keepers' | 'all';
  /** Absolute paths of finals by frame: they go out in place of the camera's files. */
  readonly finals?: ReadonlyMap<FrameId, readonly string[]>;
  readonly onProgress?: (progress: { readonly done: number; readonly total: number }) => void;
}

export interface TakeOutReport {
  readonly folders: number;
  readonly frames: number;
  readonly written: number;
  readonly alreadyThere: number;
  /** Paths in the folder that were changed there, or lay there before. */
  readonly leftAlone: readonly string[];
  /** Laid there before, of frames that were taken down since: gone, or changed there and left. */
  readonly takenAway: readonly string[];
  readonly takenDownThere: readonly string[];
  /** Sentences about files that are not here. */
  readonly missing: readonly string[];
  readonly wasStopped: boolean;
}

export async function takeOut(state: FinishState, options: TakeOutOptions): Promise<TakeOutReport> {
  refuseInside(options);
  const without = takedownsOf(state.arrangement, state.log).frames;
  const plan = planWayOut({
    about: { ...state.about, ...options.publishing },
    arrangement: state.arrangement,
    keepers: state.keepers,
    apart: new Set(apartKeepers(state.arrangement, state.log).map(({ frameId }) => frameId)),
    without,
    which: options.which,
  });
  const folder = await OutFolder.open(options.to);
  const counts = { written: 0, 'already-there': 0 };
  const leftAlone: string[] = [];
  const missing: string[] = [];
  const lay = async (piece: Piece): Promise<void> => {
    const laid = await folder.lay(piece);
    if (laid === 'left-alone') leftAlone.push(piece.path);
    else counts[laid] += 1;
  };
  const piecesOf = piecesFor(state, options, missing);
  let done = 0;
  let down: TakenAway = { gone: [], changed: [] };
  try {
    down = await folder.takeAway(without);
    for (const frame of plan.frames) {
      if (options.signal?.aborted) break;
      for (const piece of await piecesOf(frame)) await lay(piece);
      done += 1;
      options.onProgress?.({ done, total: plan.frames.length });
    }
    const isNeeded = plan.frames.length > 0 || down.gone.length > 0;
    if (isNeeded && done === plan.frames.length) await lay({ path: 'list.csv', content: { text: plan.list } });
  } finally {
    await folder.remember();
  }
  return {
    folders: new Set(plan.frames.map((frame) => frame.folder)).size,
    frames: plan.frames.length,
    written: counts.written,
    alreadyThere: counts['already-there'],
    leftAlone,
    takenAway: down.gone,
    takenDownThere: down.changed,
    missing,
    wasStopped: done < plan.frames.length,
  };
}

function refuseInside({ to, meetingFolder }: TakeOutOptions): void {
  const way = relative(resolve(meetingFolder), resolve(to));
  if (way.startsWith('..') || isAbsolute(way)) return;
  throw new FinishError(
    `Expected a folder outside the meeting to take frames out to, but ${to} lies in it. Name another one.`,
    to,
  );
}

/** Finals, where they are wanted; else the camera's JPEG and its raw with one sidecar for both. */
function piecesFor(state: FinishState, options: TakeOutOptions, missing: string[]) {
  const originals = originalsOf(state, options);
  return async ({ exposure, folder, name, sidecar }: OutFrame): Promise<readonly Piece[]> => {
    const { finals } = options;
    const frame = exposure.frameId;
    if (finals) {
      const paths = finals.get(frame) ?? [];
      return paths.map((path) => ({ path: `${folder}/${basename(path)}`, content: { copyOf: path }, frame }));
    }
    const copies: Piece[] = [];
    for (const path of new Set([originals.mainOf(exposure), originals.rawOf(exposure)])) {
      if (path === null) continue;
      const to = `${folder}/${name}${extname(path).toLowerCase()}`;
      if (await isFile(path)) copies.push({ path: to, content: { copyOf: path }, frame });
      else missing.push(`Expected ${path}, where bringing in laid it, but it is not there; bring its card in again.`);
    }
    return copies.length === 0 ? [] : [...copies, { path: `${folder}/${name}.xmp`, content: { text: sidecar }, frame }];
  };
}

const isFile = (path: string): Promise<boolean> =>
  stat(path).then(
    (one) => one.isFile(),
    () => false,
  );
