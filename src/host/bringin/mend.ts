/** Mends a damaged copy from a good one: only a file that hashes as the manifests say ever takes the damaged one's place. */
import { readdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { FillFile } from '../../core/bringin/types.js';
import { epochMsOf } from '../../core/units.js';
import { copyFile } from './copyFile.js';
import { nodeDisk } from './disk.js';
import { meaningOf } from './errors.js';
import { addGeneration, fillOfHistory, readHistory, referenceHashes } from './history.js';
import { mendHistory } from './mendHistory.js';
import { readBack } from './readBack.js';
import { cardsFolder, readFills } from './readFills.js';
import { throttleTo } from './throttle.js';
import { tool } from './tool.js';
import { type FileCheck, type VerifyProgress, verifyFolder } from './verifyFolder.js';

export interface MendReport {
  /** Paths below the meeting folder. */
  readonly mended: readonly string[];
  /** Sentences about what could not be mended. */
  readonly troubles: readonly string[];
  readonly sentence: string;
}

export interface MendOptions {
  /** Meeting folder with damaged files. */
  readonly damaged: string;
  /** The same meeting's folder on another disk. */
  readonly from: string;
  readonly onProgress?: (progress: VerifyProgress) => void;
  readonly signal?: AbortSignal;
}

export async function mend(options: MendOptions): Promise<MendReport> {
  const mended: string[] = [];
  const troubles: string[] = [];
  // First what tells damage from health.
  for (const name of await readdir(join(options.damaged, cardsFolder)).catch(() => [])) {
    const [folder, good] = [options.damaged, options.from].map((disk) => join(disk, cardsFolder, name)) as [
      string,
      string,
    ];
    const history = await mendHistory(folder, good);
    mended.push(...history.mended.map((file) => `${cardsFolder}/${name}/${file}`));
    troubles.push(...history.troubles);
  }
  const sources = new Map((await readFills(options.from)).map((fill) => [fill.id, fill]));
  for (const fill of await readFills(options.damaged)) {
    const folder = join(options.damaged, cardsFolder, fill.folder);
    const check = await verifyFolder(folder, options.onProgress, options.signal ? { signal: options.signal } : {});
    const broken = check.files.filter(isBroken);
    if (broken.length === 0) continue;
    const source = sources.get(fill.id);
    if (source === undefined) {
      troubles.push(
        `Expected ${options.from} to hold the fill ${fill.folder} too but it does not, so ${broken.length} files stay damaged. Give the disk that has it.`,
      );
      continue;
    }
    const done = await mendFill(folder, join(options.from, cardsFolder, source.folder), fill.files, broken, troubles);
    mended.push(...done.map((file) => `${cardsFolder}/${fill.folder}/${file.path}`));
  }
  return { mended, troubles, sentence: sentenceFor(mended.length, troubles) };
}

const isBroken = (check: FileCheck): boolean => ['mismatch', 'missing', 'unreadable'].includes(check.kind);

function sentenceFor(mended: number, troubles: readonly string[]): string {
  if (mended === 0 && troubles.length === 0) return 'Nothing is damaged.';
  const files = `${mended} damaged ${mended === 1 ? 'file was' : 'files were'} mended from the good copy.`;
  return troubles.length === 0 ? files : `${files} ${troubles.length} could not be, for the reasons given.`;
}

async function mendFill(
  folder: string,
  good: string,
  files: readonly FillFile[],
  broken: readonly FileCheck[],
  troubles: string[],
): Promise<readonly FillFile[]> {
  const mended: FillFile[] = [];
  for (const { path } of broken) {
    const file = files.find((one) => one.path === path);
    const trouble =
      file === undefined
        ? `No manifest says in XXH3-128 what ${path} must be, so it is left alone.`
        : await mendFile(folder, good, file);
    if (trouble === null) mended.push(file!);
    else troubles.push(trouble);
  }
  if (mended.length > 0) await recordMending(folder, mended);
  return mended;
}

/** Null when the file is whole again, otherwise a sentence why it is not. */
async function mendFile(folder: string, good: string, file: FillFile): Promise<string | null> {
  const seen = await nodeDisk.look(join(good, file.path));
  if (seen === null)
    return `Expected ${file.path} on the good disk too but it is not there. Try a third copy or the card.`;
  const job = {
    source: join(good, file.path),
    file: { path: file.path, bytes: seen.size, modified: epochMsOf(Math.floor(seen.mtimeMs)) },
    to: file.path,
    targets: new Map([[0, folder]]),
    replaces: true,
  };
  const outcome = await copyFile(job, quietMeans);
  if (outcome.kind !== 'read') return outcome.sentence;
  const target = outcome.targets.get(0)!;
  if (target.kind !== 'written')
    return `Expected to write ${file.path} to the damaged disk but ${target.kind === 'failed' ? meaningOf(target.error) : 'it was in the way'}.`;
  if (outcome.fileId !== file.fileId) {
    await nodeDisk.remove(target.part);
    return `Expected ${file.fileId} for ${file.path} on the good disk but it has ${outcome.fileId}: that copy is damaged too. Nothing was replaced; try a third copy or the card.`;
  }
  await nodeDisk.rename(target.part, target.final);
  await nodeDisk.syncFolder(dirname(target.final));
  const read = await readBack(nodeDisk, target.final, ['xxh128']);
  return read.hashes.get('xxh128') === file.fileId
    ? null
    : `${file.path} was written anew but reads back differently: this disk is failing. Copy everything to another.`;
}

const quietMeans = {
  disk: nodeDisk,
  throttle: throttleTo(undefined),
  signal: undefined,
  onRead: () => undefined,
  onWritten: () => undefined,
};

/** What was mended is verified anew, and the history says when. */
async function recordMending(folder: string, mended: readonly FillFile[]): Promise<void> {
  const history = await readHistory(folder);
  const fill = history === null ? null : fillOfHistory('', history);
  if (history === null || fill === null) return;
  const at = epochMsOf(Date.now());
  const known = referenceHashes(history);
  await addGeneration(folder, {
    fill: fill.id,
    process: 'in-place',
    at,
    tool,
    files: mended.map((file) => ({
      path: file.path,
      bytes: file.bytes,
      modified: file.modified,
      hashes: [{ kind: 'xxh128', value: known.get(file.path)!.get('xxh128')!, action: 'verified', at }],
    })),
    allFiles: fill.files,
  });
}
