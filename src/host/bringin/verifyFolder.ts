/** Checks a folder against its ASC MHL histories: a fill, a whole meeting folder, or anybody's folder that has one. */
import { readdir, readFile, stat } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { manifestFolder } from '../../core/bringin/manifest.js';
import type { HashKind } from '../../core/bringin/manifestTypes.js';
import { isPartName } from '../../core/bringin/names.js';
import { nodeDisk } from './disk.js';
import { codeOf, meaningOf } from './errors.js';
import { c4Of } from './hashing.js';
import { type History, readHistory, referenceHashes } from './history.js';
import { limitTo } from './limit.js';
import { readBack } from './readBack.js';

/** Paths are relative to the folder that was checked. */
export type FileCheck =
  | { readonly kind: 'verified'; readonly path: string; readonly by: readonly HashKind[] }
  | {
      readonly kind: 'mismatch';
      readonly path: string;
      readonly by: HashKind;
      readonly expected: string;
      readonly received: string;
      readonly sentence: string;
    }
  | { readonly kind: 'missing'; readonly path: string; readonly sentence: string }
  | { readonly kind: 'unreadable'; readonly path: string; readonly sentence: string }
  /** Only failed hashes are known of it, and those can never verify. */
  | { readonly kind: 'unproven'; readonly path: string; readonly sentence: string }
  /** Stands there, but no manifest knows it. */
  | { readonly kind: 'new'; readonly path: string };

export interface FolderCheck {
  readonly folder: string;
  /** Folders with a history of their own, this one or below it. */
  readonly histories: number;
  readonly files: readonly FileCheck[];
  readonly verified: number;
  /** Sentences about chains, manifests and files, worst first. */
  readonly troubles: readonly string[];
  readonly isWhole: boolean;
  readonly sentence: string;
  /** Present when the bytes may have come from memory rather than from the disk. */
  readonly notPastCache?: string;
}

export interface VerifyProgress {
  readonly filesDone: number;
  readonly filesTotal: number;
  readonly bytesDone: number;
  readonly bytesTotal: number;
  readonly path: string;
}

const filesAtATime = 3;

export async function verifyFolder(
  folder: string,
  onProgress: (progress: VerifyProgress) => void = () => undefined,
  options: { readonly signal?: AbortSignal } = {},
): Promise<FolderCheck> {
  const tree = await walk(folder);
  const histories = (await Promise.all(tree.histories.map((path) => readHistory(path)))).filter((one) => one !== null);
  const expected = expectedFiles(folder, histories);
  const known = [...expected].filter(([path]) => tree.files.has(path));
  const totals = {
    filesTotal: known.length,
    bytesTotal: known.reduce((sum, [path]) => sum + tree.files.get(path)!, 0),
  };
  let [filesDone, bytesDone, notPastCache] = [0, 0, undefined as string | undefined];
  const limit = limitTo(filesAtATime);
  const checked = [...expected].map(([path, hashes]) =>
    limit(async (): Promise<FileCheck> => {
      options.signal?.throwIfAborted();
      const check = await checkFile(folder, path, hashes, (bytes) => {
        bytesDone += bytes;
      });
      notPastCache ??= check.notPastCache;
      if (tree.files.has(path)) filesDone++;
      onProgress({ ...totals, filesDone, bytesDone, path });
      return check.check;
    }),
  );
  const files = [...(await Promise.all(checked)), ...newFiles(folder, tree, expected)];
  const troubles = [
    ...new Set([
      ...(await chainTroubles(histories)),
      ...files.flatMap((file) => ('sentence' in file ? [file.sentence] : [])),
    ]),
  ];
  return summarised(folder, histories.length, files, troubles, notPastCache);
}

function summarised(
  folder: string,
  histories: number,
  files: readonly FileCheck[],
  troubles: readonly string[],
  notPastCache: string | undefined,
): FolderCheck {
  const verified = files.filter((file) => file.kind === 'verified').length;
  const fresh = files.filter((file) => file.kind === 'new').length;
  const isWhole = histories > 0 && troubles.length === 0;
  return {
    folder,
    histories,
    files,
    verified,
    troubles,
    isWhole,
    sentence: sentenceFor(folder, histories, verified, fresh, troubles),
    ...(notPastCache === undefined ? {} : { notPastCache }),
  };
}

function sentenceFor(
  folder: string,
  histories: number,
  verified: number,
  fresh: number,
  troubles: readonly string[],
): string {
  if (histories === 0)
    return `Expected an ascmhl folder in ${folder} or below it but found none, so nothing could be checked. Give a fill or a meeting folder.`;
  const more = fresh > 0 ? ` ${fresh} more ${fresh === 1 ? 'file is' : 'files are'} in no manifest.` : '';
  if (troubles.length === 0)
    return `${verified === 1 ? 'The one file is as it was when it was' : `All ${verified} files are as they were when they were`} brought in.${more}`;
  const wrong = troubles.length === 1 ? 'one thing is wrong' : `${troubles.length} things are wrong`;
  return `${verified} ${verified === 1 ? 'file is' : 'files are'} as they were; ${wrong} and named apart.${more}`;
}

interface Tree {
  /** Bytes by path relative to the root; files inside `ascmhl` folders are left out. */
  readonly files: Map<string, number>;
  /** Folders that hold an `ascmhl` folder, outermost first. */
  readonly histories: string[];
}

async function walk(root: string): Promise<Tree> {
  const tree: Tree = { files: new Map(), histories: [] };
  await walkInto(root, root, tree);
  return tree;
}

async function walkInto(root: string, folder: string, tree: Tree): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true });
  if (entries.some((entry) => entry.isDirectory() && entry.name === manifestFolder)) tree.histories.push(folder);
  for (const entry of entries) {
    const path = join(folder, entry.name);
    if (entry.isDirectory() && entry.name !== manifestFolder) await walkInto(root, path, tree);
    else if (entry.isFile() && !isPartName(entry.name) && entry.name !== '.DS_Store') {
      tree.files.set(asPath(relative(root, path)), (await stat(path)).size);
    }
  }
}

const asPath = (path: string): string => (sep === '/' ? path : path.replaceAll(sep, '/'));

type Expected = ReadonlyMap<string, ReadonlyMap<HashKind, string>>;

/** What every history expects; a nested history speaks for its own folder before one further out does. */
function expectedFiles(root: string, histories: readonly History[]): Expected {
  const expected = new Map<string, ReadonlyMap<HashKind, string>>();
  for (const history of histories) {
    const below = asPath(relative(root, history.folder));
    for (const [path, hashes] of referenceHashes(history))
      expected.set(below === '' ? path : `${below}/${path}`, hashes);
  }
  return expected;
}

async function checkFile(
  root: string,
  path: string,
  hashes: ReadonlyMap<HashKind, string>,
  onBytes: (bytes: number) => void,
): Promise<{ readonly check: FileCheck; readonly notPastCache?: string | undefined }> {
  if (hashes.size === 0) {
    return {
      check: {
        kind: 'unproven',
        path,
        sentence: `${path} has only failed hashes in its manifests; nothing can prove it. Compare with another copy.`,
      },
    };
  }
  try {
    const read = await readBack(nodeDisk, join(root, path), [...hashes.keys()], onBytes);
    return { check: compared(path, hashes, read.hashes), notPastCache: read.notPastCache };
  } catch (error) {
    if (codeOf(error) === 'ENOENT') {
      return {
        check: { kind: 'missing', path, sentence: `Expected ${path} but it is not there. Mend it from another copy.` },
      };
    }
    const sentence = `Expected to read ${path} but ${meaningOf(error)}. Mend it from another copy.`;
    return { check: { kind: 'unreadable', path, sentence } };
  }
}

function compared(
  path: string,
  expected: ReadonlyMap<HashKind, string>,
  received: ReadonlyMap<HashKind, string>,
): FileCheck {
  for (const [by, wanted] of expected) {
    const got = received.get(by)!;
    if (got === wanted) continue;
    const sentence = `Expected ${by} ${wanted} for ${path} but it has ${got}: it was changed or damaged. Mend it from another copy.`;
    return { kind: 'mismatch', path, by, expected: wanted, received: got, sentence };
  }
  return { kind: 'verified', path, by: [...expected.keys()] };
}

/** Files that no manifest knows, in folders that a history covers. */
function newFiles(root: string, tree: Tree, expected: Expected): readonly FileCheck[] {
  const covered = tree.histories
    .map((folder) => asPath(relative(root, folder)))
    .map((path) => (path === '' ? '' : `${path}/`));
  return [...tree.files.keys()]
    .filter((path) => !expected.has(path) && covered.some((folder) => path.startsWith(folder)))
    .map((path) => ({ kind: 'new' as const, path }));
}

async function chainTroubles(histories: readonly History[]): Promise<readonly string[]> {
  const references = histories.map((history) => referenceTroubles(history));
  return [...histories.flatMap((history) => history.troubles), ...(await Promise.all(references)).flat()];
}

/** A manifest further out vouches for the manifests of histories below it. */
async function referenceTroubles(history: History): Promise<readonly string[]> {
  const troubles: string[] = [];
  for (const { path, c4 } of history.generations.flatMap(({ manifest }) => manifest.references)) {
    const bytes = await readFile(join(history.folder, path)).catch(() => null);
    if (bytes === null) troubles.push(`Expected the manifest ${path} but it is not there. Compare with another copy.`);
    else if (c4Of(bytes) !== c4)
      troubles.push(
        `Expected the manifest ${path} to have the C4 id ${c4} but it was changed. Compare with another copy.`,
      );
  }
  return troubles;
}
