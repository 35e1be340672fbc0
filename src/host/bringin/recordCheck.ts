/** Says in the manifests what a check found: the next generation of each history, for those who want the custody written down. */
import { readdir, stat } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { manifestFolder } from '../../core/bringin/manifest.js';
import type { HashKind, ManifestFile } from '../../core/bringin/manifestTypes.js';
import type { Fill, FillFile } from '../../core/bringin/types.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { meaningOf } from './errors.js';
import { addGeneration, fillOfHistory, readHistory, referenceHashes } from './history.js';
import { cardsFolder } from './readFills.js';
import { tool } from './tool.js';
import type { FileCheck, FolderCheck } from './verifyFolder.js';

export interface RecordedCheck {
  /** Histories that got a generation. */
  readonly recorded: number;
  /** Sentences about histories that got none. */
  readonly troubles: readonly string[];
}

/** Of a fill, or of each fill in a meeting folder. What is missing, new or unproven has no hash that could be written. */
export async function recordCheck(check: FolderCheck, at: EpochMs = epochMsOf(Date.now())): Promise<RecordedCheck> {
  const troubles: string[] = [];
  let recorded = 0;
  for (const folder of await historyFoldersIn(check.folder)) {
    const trouble = await recordOne(folder, check, at).catch(
      (error: unknown) => `Expected to record the check in ${folder} but ${meaningOf(error)}.`,
    );
    if (trouble === null) recorded++;
    else troubles.push(trouble);
  }
  return { recorded, troubles };
}

async function historyFoldersIn(folder: string): Promise<readonly string[]> {
  const names = await readdir(join(folder, cardsFolder)).catch(() => []);
  const candidates = [folder, ...names.sort().map((name) => join(folder, cardsFolder, name))];
  const found = await Promise.all(
    candidates.map((one) =>
      stat(join(one, manifestFolder)).then(
        () => [one],
        () => [],
      ),
    ),
  );
  return found.flat();
}

async function recordOne(folder: string, check: FolderCheck, at: EpochMs): Promise<string | null> {
  const history = await readHistory(folder);
  const fill = history === null ? null : fillOfHistory('', history);
  if (history === null || fill === null || history.troubles.length > 0)
    return `The check of ${folder} was not recorded, for its manifests are in trouble themselves. Bring them back from another copy first.`;
  const references = referenceHashes(history);
  // Directory hashes of the new generation need every file's hash of one kind.
  if (references.size !== fill.files.length || history.generations.some((one) => one.manifest.references.length > 0))
    return `The check of ${folder} was not recorded, for its history was made with other hashes or holds others below it. Record it with the tool that made it.`;
  const below = relative(check.folder, folder).split(sep).join('/');
  const files = check.files.flatMap((file) => manifestFileOf(file, below, fill, references, check, at));
  await addGeneration(folder, { fill: fill.id, process: 'in-place', at, tool, files, allFiles: fill.files });
  return null;
}

function manifestFileOf(
  file: FileCheck,
  below: string,
  fill: Fill,
  references: ReadonlyMap<string, ReadonlyMap<HashKind, string>>,
  { notPastCache }: FolderCheck,
  at: EpochMs,
): readonly ManifestFile[] {
  const path = below === '' ? file.path : file.path.slice(below.length + 1);
  const known = fill.files.find((one) => one.path === path);
  if (known === undefined || (below !== '' && !file.path.startsWith(`${below}/`))) return [];
  const common = { path, bytes: known.bytes, modified: known.modified };
  if (file.kind === 'mismatch')
    return [{ ...common, hashes: [{ kind: file.by, value: file.received, action: 'failed', at }] }];
  if (file.kind !== 'verified') return [];
  const hashes = file.by.map((kind) => ({
    kind,
    value: references.get(path)!.get(kind)!,
    action: 'verified' as const,
    at,
  }));
  return [{ ...common, ...stillNotReadBack(known, notPastCache), hashes }];
}

/** Read past the memory now, a copy is proven that was not before. */
const stillNotReadBack = (known: FillFile, notPastCache: string | undefined): { readonly notReadBack?: string } =>
  notPastCache === undefined || known.notReadBack === undefined ? {} : { notReadBack: known.notReadBack };
