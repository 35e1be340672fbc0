/** One fill on one destination: what it holds, its journal, and its next manifest. */
import { readdir, readFile, rmdir } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { chainName, manifestFolder } from '../../core/bringin/manifest.js';
import type { ManifestFile } from '../../core/bringin/manifestTypes.js';
import { isPartName } from '../../core/bringin/names.js';
import type { Fill, FillFile } from '../../core/bringin/types.js';
import type { FillId } from '../../core/ids.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import type { Disk } from './disk.js';
import { addGeneration, fillOfHistory, readHistory } from './history.js';
import { type Journal, journalName, openJournal, readJournal } from './journal.js';
import { noteWithStart } from './machineStart.js';
import { readBack } from './readBack.js';
import { cardsFolder } from './readFills.js';
import type { OwnHistory } from './sources.js';
import { tool } from './tool.js';
import { writeWhole } from './writeWhole.js';

export interface FillOnDisk {
  readonly folder: string;
  /** Everything that stands here and was proven, by path. */
  readonly held: Map<string, FillFile>;
  /** Of these, what no manifest says yet. */
  readonly unsaid: Map<string, FillFile>;
  readonly journal: Journal;
  generation: number;
}

/** Fills of a destination with what their journals add; for planning. */
export async function readHeld(meetingFolder: string, disk: Disk): Promise<readonly Fill[]> {
  const names = await readdir(join(meetingFolder, cardsFolder)).catch(() => []);
  const fills = await Promise.all(names.map((name) => readHeldFill(join(meetingFolder, cardsFolder, name), disk)));
  return fills.filter((fill) => fill !== null);
}

async function readHeldFill(folder: string, disk: Disk): Promise<Fill | null> {
  const history = await readHistory(folder);
  const said = history === null ? null : fillOfHistory(basename(folder), history);
  const journal = await readJournal(folder);
  const id = said?.id ?? journal.fill;
  if (id === null || id === undefined) return null;
  const files = new Map([...(said?.files ?? []), ...journal.readBack].map((file) => [file.path, file]));
  return {
    id,
    folder: basename(folder),
    firstBroughtIn: said?.firstBroughtIn ?? epochMsOf(0),
    files: [...files.values()],
    gone: await goneOf(folder, files.keys(), disk),
    generations: said?.generations ?? 0,
  };
}

/** A manifest vouches for what stood there once: files may have been deleted since. */
async function goneOf(folder: string, paths: Iterable<string>, disk: Disk): Promise<ReadonlySet<string>> {
  const looked = await Promise.all(
    [...paths].map(async (path) => [path, await disk.look(join(folder, path))] as const),
  );
  return new Set(looked.flatMap(([path, there]) => (there === null ? [path] : [])));
}

export async function openFill(meetingFolder: string, folderName: string, id: FillId, disk: Disk): Promise<FillOnDisk> {
  const folder = join(meetingFolder, cardsFolder, folderName);
  await disk.makeFolder(folder);
  const history = await readHistory(folder);
  const said = history === null ? null : fillOfHistory(folderName, history);
  const journalled = await readJournal(folder);
  const journal = await openJournal(folder);
  if (journalled.fill === null) await journal.append({ kind: 'fill', id });
  const unsaid = journalled.readBack.filter((file) => !said?.files.some((one) => sameLine(one, file)));
  const held = new Map([...(said?.files ?? []), ...unsaid].map((file) => [file.path, file]));
  const gone = await goneOf(folder, held.keys(), disk);
  for (const path of gone) held.delete(path);
  return {
    folder,
    held,
    unsaid: new Map(unsaid.flatMap((file) => (gone.has(file.path) ? [] : [[file.path, file]]))),
    journal,
    generation: said?.generations ?? 0,
  };
}

const sameLine = (one: FillFile, other: FillFile): boolean =>
  one.path === other.path && one.fileId === other.fileId && one.notReadBack === other.notReadBack;

/**
 * Tidies what a stop left behind, before anything is planned: copies under hidden names are removed; files that got
 * their own name but were not read back yet are read back now, and removed if they are not what the card gave.
 */
export async function settleUnfinished(meetingFolder: string, disk: Disk): Promise<void> {
  const names = await readdir(join(meetingFolder, cardsFolder)).catch(() => []);
  for (const name of names) {
    const folder = join(meetingFolder, cardsFolder, name);
    const { fill, written } = await readJournal(folder);
    if (fill === null) continue;
    await removeParts(folder, disk);
    if (written.length > 0) await settleWritten(folder, written, disk);
    if (await holdsNothing(folder)) await forgetFill(folder);
  }
}

/** Stopped before its first file stood: the next try of that card cannot know it again, and takes a folder of its own. */
async function holdsNothing(folder: string): Promise<boolean> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true });
  return entries.every((entry) => entry.isDirectory() || entry.name === journalName);
}

async function forgetFill(folder: string): Promise<void> {
  await (await openJournal(folder)).remove();
  await removeEmptyFolders(folder);
}

async function settleWritten(folder: string, written: readonly FillFile[], disk: Disk): Promise<void> {
  const journal = await openJournal(folder);
  for (const file of written) {
    const path = join(folder, file.path);
    if ((await disk.look(path)) === null) continue;
    // A disk that cannot give it now is told of when the card's turn comes.
    const read = await readBack(disk, path, ['xxh128']).catch(() => null);
    if (read === null) continue;
    if (read.hashes.get('xxh128') !== file.fileId) await disk.remove(path);
    else
      await journal.append({
        kind: 'read-back',
        file: withNote(file, read.notPastCache === undefined ? undefined : noteWithStart(read.notPastCache)),
      });
  }
}

export const withNote = (file: FillFile, note: string | undefined): FillFile =>
  note === undefined ? file : { ...file, notReadBack: note };

async function removeParts(folder: string, disk: Disk): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory() && entry.name !== 'ascmhl') await removeParts(path, disk);
    else if (entry.isFile() && isPartName(entry.name)) await disk.remove(path);
  }
}

/**
 * Says in a manifest what the journal holds, and lets the journal go once nothing is left to read back. Nothing to
 * say, nothing written; a fill that got nothing at all leaves no folder behind.
 */
export async function sealFill(fill: FillOnDisk, id: FillId, at: EpochMs): Promise<void> {
  if (fill.unsaid.size > 0) {
    fill.generation = await addGeneration(fill.folder, {
      fill: id,
      process: 'transfer',
      at,
      tool,
      files: [...fill.unsaid.values()]
        .sort((a, b) => (a.path < b.path ? -1 : 1))
        .map((file) => manifestFileOf(file, at)),
      allFiles: [...fill.held.values()],
    });
    fill.unsaid.clear();
  }
  await fill.journal.settled();
  const { written } = await readJournal(fill.folder);
  if (written.length > 0) return;
  await fill.journal.remove();
  if (fill.held.size === 0) await removeEmptyFolders(fill.folder);
}

async function removeEmptyFolders(folder: string): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true });
  for (const entry of entries) if (entry.isDirectory()) await removeEmptyFolders(join(folder, entry.name));
  await rmdir(folder).catch(() => undefined);
}

const manifestFileOf = (file: FillFile, at: EpochMs): ManifestFile => ({
  path: file.path,
  bytes: file.bytes,
  modified: file.modified,
  hashes: [{ kind: 'xxh128', value: file.fileId, action: 'original', at }],
  ...(file.notReadBack === undefined ? {} : { notReadBack: file.notReadBack }),
});

/**
 * A source that has a history keeps it: its manifests and chain are copied as they are, before anything is added.
 * Only onto a fill without one, and only a history whose chain holds.
 */
export async function carryHistory(own: OwnHistory, fill: FillOnDisk): Promise<void> {
  if (fill.generation > 0 || own.history.troubles.length > 0) return;
  for (const name of [...own.history.chain.map((link) => link.path), chainName]) {
    await writeWhole(
      join(fill.folder, manifestFolder, name),
      await readFile(join(own.history.folder, manifestFolder, name)),
    );
  }
  fill.generation = own.history.chain.length;
  for (const said of own.fill.files) {
    const unsaid = fill.unsaid.get(said.path);
    if (unsaid !== undefined && sameLine(said, unsaid)) fill.unsaid.delete(said.path);
  }
}
