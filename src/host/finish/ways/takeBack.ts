/**
 * Pictures that were finished elsewhere find their frames again. Looking changes nothing; what is taken goes into the
 * meeting's `finished/`, and the caller says the decisions that attach it.
 */
import { mkdir, readdir, readFile, stat } from 'node:fs/promises';
import { basename, dirname, join, relative } from 'node:path';
import { xxhash128 } from 'hash-wasm';
import {
  APART_FOLDER,
  type ComingBack,
  comingBack,
  picturesFromElsewhere,
  takedownsOf,
} from '../../../core/finish/index.js';
import type { FileId, FrameId } from '../../../core/ids.js';
import type { Decision } from '../../../core/log/types.js';
import { writeAtomically } from '../atomically.js';
import { FinishError } from '../finishError.js';
import { elsewherePath, type FinishState } from '../frames.js';
import { candidatesIn, type PictureOf } from './candidates.js';
import { type Readers, startReaders } from './readers.js';
import { type ReadAnswer, type ReturnedPicture, unpacked } from './readReturned.js';

export interface TakeBackOptions {
  readonly meetingFolder: string;
  readonly from: string;
  /** A small upright picture of a frame, as a path. */
  readonly pictureOf: PictureOf;
  /** What has a frame's full name is that frame's, whatever it looks like: a person says so. */
  readonly believesNames?: boolean;
  readonly onProgress?: (progress: { readonly done: number; readonly total: number }) => void;
}

type Attached = Extract<ComingBack, { kind: 'attached' }> & Pick<ReturnedPicture, 'picture' | 'extension'>;

type Found =
  | Attached
  | Exclude<ComingBack, { kind: 'attached' }>
  /** Byte for byte what went out, or what was taken back before. */
  | { readonly kind: 'unchanged' | 'already-here' }
  /** Of a frame that must not be shown. */
  | { readonly kind: 'taken-down'; readonly frameId: FrameId }
  | { readonly kind: 'unreadable'; readonly why: string };

export type Returned = Found & {
  /** Inside the folder looked into. */
  readonly path: string;
};

/** The older first, so that of two for one frame the newer is said last and stands. */
export async function lookAtReturned(state: FinishState, options: TakeBackOptions): Promise<readonly Returned[]> {
  const readers = startReaders();
  try {
    return await lookAtReturnedWith(readers, state, options);
  } finally {
    await readers.close();
  }
}

/** With children of the caller's own, for tests of what happens when one dies. */
export async function lookAtReturnedWith(
  readers: Readers,
  state: FinishState,
  options: TakeBackOptions,
): Promise<readonly Returned[]> {
  const paths = await picturesIn(options.from);
  const find = finderIn(state, options);
  // All wait in the pool's queue; an error is told when its turn comes.
  const reading = paths.map((path) => readers.run({ path }).catch((error: Error) => error));
  const returned: Returned[] = [];
  for (const [index, path] of paths.entries()) {
    const answer = await reading[index]!;
    if (answer instanceof Error) throw answer;
    returned.push({ path: relative(options.from, path), ...(await find(basename(path), answer)) });
    options.onProgress?.({ done: returned.length, total: paths.length });
  }
  return returned;
}

/** Copies what was attached into the meeting and returns the decisions that say so. */
export async function takeReturned(
  state: FinishState,
  { meetingFolder, from }: TakeBackOptions,
  returned: readonly Returned[],
): Promise<readonly Decision[]> {
  const files = new Map(state.arrangement.exposures.map(({ frameId, mainFile }) => [frameId, mainFile]));
  const decisions: Decision[] = [];
  for (const one of returned) {
    const file = one.kind === 'attached' ? files.get(one.frameId) : undefined;
    if (one.kind !== 'attached' || file === undefined) continue;
    const { picture, extension } = one;
    await copyInto(elsewherePath(meetingFolder, { picture, extension }), join(from, one.path), picture);
    decisions.push({ kind: 'finished-elsewhere', file, picture, extension });
  }
  return decisions;
}

async function copyInto(to: string, path: string, picture: FileId): Promise<void> {
  const bytes = await readFile(path);
  if ((await xxhash128(bytes)) !== picture) {
    const sentence = `Expected ${path} as it was looked at, but it was written to since. Wait until the other program has ended, and say it again; nothing of it was taken.`;
    throw new FinishError(sentence, path);
  }
  await mkdir(dirname(to), { recursive: true });
  await writeAtomically(to, bytes);
}

function finderIn(state: FinishState, options: TakeBackOptions) {
  const candidatesOf = candidatesIn(state.arrangement.exposures, options.pictureOf);
  const attached = new Set([...picturesFromElsewhere(state.log).values()].map(({ picture }) => picture));
  const originals = new Set(state.arrangement.exposures.flatMap(({ files }) => files));
  const down = takedownsOf(state.arrangement, state.log).frames;
  const isOurFinal = finalsIn(join(options.meetingFolder, 'made', 'finals'));
  return async (fileName: string, answer: ReadAnswer): Promise<Found> => {
    if (answer.kind === 'unreadable') return answer;
    const returned = unpacked(answer);
    const { picture, extension } = returned;
    if (attached.has(picture)) return { kind: 'already-here' };
    if (originals.has(picture) || (await isOurFinal(returned))) return { kind: 'unchanged' };
    const found = comingBack(await candidatesOf(fileName, returned), options.believesNames);
    if (found.kind !== 'attached') return found;
    return down.has(found.frameId) ? { kind: 'taken-down', frameId: found.frameId } : { ...found, picture, extension };
  };
}

/** Whether a picture is one of the finals as it lies here, those of frames kept apart among them, whatever it is called now. */
function finalsIn(folder: string): (returned: ReturnedPicture) => Promise<boolean> {
  let bySize: Promise<ReadonlyMap<number, readonly string[]>> | undefined;
  return async ({ picture, bytes }) => {
    bySize ??= filesBySize([folder, join(folder, APART_FOLDER)]);
    for (const path of (await bySize).get(bytes) ?? []) {
      if ((await xxhash128(await readFile(path))) === picture) return true;
    }
    return false;
  };
}

async function filesBySize(folders: readonly string[]): Promise<ReadonlyMap<number, readonly string[]>> {
  const sizes = new Map<number, string[]>();
  for (const folder of folders) {
    for (const name of await readdir(folder).catch(() => [])) {
      const path = join(folder, name);
      const { size } = await stat(path);
      sizes.set(size, [...(sizes.get(size) ?? []), path]);
    }
  }
  return sizes;
}

const PICTURE = /\.(jpe?g|tiff?|png|webp|avif)$/i;

/** Folders within are looked into, links are not followed. The older first, then by name. */
async function picturesIn(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true });
  const paths = entries
    .filter((entry) => entry.isFile() && PICTURE.test(entry.name) && !entry.name.startsWith('.'))
    .map((entry) => join(entry.parentPath, entry.name));
  const dated = await Promise.all(paths.map(async (path) => ({ path, modified: (await stat(path)).mtimeMs })));
  return dated.sort((a, b) => a.modified - b.modified || (a.path < b.path ? -1 : 1)).map(({ path }) => path);
}
