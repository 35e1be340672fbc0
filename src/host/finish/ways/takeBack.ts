/**
 * Pictures that were finished elsewhere find their frames again. Looking changes nothing; what is taken goes into the
 * meeting's `finished/`, and the caller says the decisions that attach it.
 */
import { mkdir, readdir, readFile, stat } from 'node:fs/promises';
import { basename, dirname, join, relative } from 'node:path';
import { xxhash128 } from 'hash-wasm';
import { type ComingBack, comingBack, picturesFromElsewhere } from '../../../core/finish/index.js';
import type { FileId } from '../../../core/ids.js';
import type { Decision } from '../../../core/log/types.js';
import { writeAtomically } from '../atomically.js';
import { elsewherePath, type FinishState } from '../frames.js';
import { candidatesIn, type PictureOf } from './candidates.js';
import { type ReturnedPicture, readReturned } from './readReturned.js';

export interface TakeBackOptions {
  readonly meetingFolder: string;
  readonly from: string;
  /** A small upright picture of a frame, as a path. */
  readonly pictureOf: PictureOf;
  readonly onProgress?: (progress: { readonly done: number; readonly total: number }) => void;
}

type Found =
  | ComingBack
  /** Byte for byte what went out, or what was taken back before. */
  | { readonly kind: 'unchanged' | 'already-here' }
  | { readonly kind: 'unreadable'; readonly why: string };

export type Returned = Found & {
  /** Inside the folder looked into. */
  readonly path: string;
};

/** The older first, so that of two for one frame the newer is said last and stands. */
export async function lookAtReturned(state: FinishState, options: TakeBackOptions): Promise<readonly Returned[]> {
  const paths = await picturesIn(options.from);
  const find = finderIn(state, options);
  const returned: Returned[] = [];
  for (const path of paths) {
    returned.push({ path: relative(options.from, path), ...(await find(path)) });
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
    if (file === undefined) continue;
    const { picture, extension, bytes } = await readReturned(join(from, one.path));
    const to = elsewherePath(meetingFolder, { picture, extension });
    await mkdir(dirname(to), { recursive: true });
    await writeAtomically(to, bytes);
    decisions.push({ kind: 'finished-elsewhere', file, picture, extension });
  }
  return decisions;
}

function finderIn(state: FinishState, options: TakeBackOptions): (path: string) => Promise<Found> {
  const candidatesOf = candidatesIn(state.arrangement.exposures, options.pictureOf);
  const attached = new Set([...picturesFromElsewhere(state.log).values()].map(({ picture }) => picture));
  const originals = new Set(state.arrangement.exposures.flatMap(({ files }) => files));
  return async (path) => {
    let returned: ReturnedPicture;
    try {
      returned = await readReturned(path);
    } catch (error) {
      return { kind: 'unreadable', why: (error as Error).message.split('\n')[0]! };
    }
    if (attached.has(returned.picture)) return { kind: 'already-here' };
    const isOriginal = originals.has(returned.picture);
    if (isOriginal || (await isOurFinal(options.meetingFolder, path, returned.picture))) return { kind: 'unchanged' };
    return comingBack(await candidatesOf(basename(path), returned));
  };
}

async function isOurFinal(meetingFolder: string, path: string, picture: FileId): Promise<boolean> {
  const final = await readFile(join(meetingFolder, 'made', 'finals', basename(path))).catch(() => null);
  return final !== null && (await xxhash128(final)) === picture;
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
