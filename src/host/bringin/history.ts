/** The history of one folder: its manifests in order, what they vouch for, and how a generation is added. */
import { readdir, readFile, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { basename, join } from 'node:path';
import { directoryHashes } from '../../core/bringin/directoryHashes.js';
import {
  chainName,
  chainXml,
  ignoredPatterns,
  manifestFolder,
  manifestName,
  manifestXml,
} from '../../core/bringin/manifest.js';
import type { ChainLink, HashKind, Manifest, ManifestFile } from '../../core/bringin/manifestTypes.js';
import type { Fill, FillFile } from '../../core/bringin/types.js';
import type { FileId, FillId } from '../../core/ids.js';
import { type EpochMs, epochMsOf } from '../../core/units.js';
import { BringInError, codeOf } from './errors.js';
import { c4Of, hashBytesWith } from './hashing.js';
import { journalName } from './journal.js';
import { parseChain, parseManifest } from './readManifest.js';
import { writeWhole } from './writeWhole.js';

export interface Generation {
  readonly name: string;
  readonly manifest: Manifest;
  /** False when the manifest's bytes are not those its chain vouches for. */
  readonly isAsChained: boolean;
}

export interface History {
  readonly folder: string;
  readonly generations: readonly Generation[];
  readonly chain: readonly ChainLink[];
  /** Sentences about manifests that are missing, broken or changed. */
  readonly troubles: readonly string[];
}

/** Reads `ascmhl/` of a folder; null when it has none. Manifests outside the chain were never finished and are left alone. */
export async function readHistory(folder: string): Promise<History | null> {
  const names = await readdir(join(folder, manifestFolder)).catch(() => null);
  if (names === null) return null;
  const troubles: string[] = [];
  const chain = await readChain(folder, names, troubles);
  const generations: Generation[] = [];
  for (const link of chain) {
    const generation = await readGeneration(folder, link, troubles);
    if (generation) generations.push(generation);
  }
  return { folder, generations, chain, troubles };
}

async function readChain(folder: string, names: readonly string[], troubles: string[]): Promise<readonly ChainLink[]> {
  const path = join(folder, manifestFolder, chainName);
  try {
    return parseChain(await readFile(path, 'utf8'), path);
  } catch (error) {
    // Stopped between the first manifest and its chain: the journal still has it all, and both are made anew.
    if (codeOf(error) === 'ENOENT' && names.includes(journalName)) return [];
    const manifests = names.filter((name) => /^\d{4}_.*\.mhl$/.test(name)).sort();
    if (manifests.length > 0) {
      const why = error instanceof Error ? error.message : String(error);
      troubles.push(`The chain of ${basename(folder)} could not be read, so its manifests stand unproven. ${why}`);
    }
    return manifests.map((name) => ({ path: name, c4: '' }));
  }
}

async function readGeneration(folder: string, link: ChainLink, troubles: string[]): Promise<Generation | null> {
  const path = join(folder, manifestFolder, link.path);
  try {
    const bytes = await readFile(path);
    const isAsChained = link.c4 === c4Of(bytes);
    if (!isAsChained && link.c4 !== '') {
      troubles.push(
        `Expected ${link.path} to have the C4 id ${link.c4} but it has ${c4Of(bytes)}: the manifest was changed. Compare with the other disk's.`,
      );
    }
    return { name: link.path, manifest: parseManifest(bytes.toString('utf8'), path), isAsChained };
  } catch (error) {
    troubles.push(
      `Expected the manifest ${link.path} in ${basename(folder)} but could not use it: ${error instanceof Error ? error.message : String(error)}`,
    );
    return null;
  }
}

/** The fill a folder's history describes, or null where no manifest names any. */
export function fillOfHistory(folderName: string, history: History): Fill | null {
  const first = history.generations[0];
  if (first === undefined) return null;
  const named = history.generations.find(({ manifest }) => manifest.fill !== undefined)?.manifest.fill;
  return {
    id: named ?? foreignId(history),
    folder: folderName,
    firstBroughtIn: first.manifest.created,
    files: filesOfHistory(history),
    generations: history.chain.length,
  };
}

/** A history made elsewhere has no id of ours; its first manifest's own hash serves, the same on every copy. */
function foreignId(history: History): FillId {
  return `asc-mhl-${(history.chain[0]?.c4 ?? '').slice(2, 34)}` as FillId;
}

/**
 * What each file must hash to, by kind: the first hash that did not fail is the reference (specification 1.0). A file
 * of which only failed hashes are known has none. Renamed files (`previousPath`) are known by their new name alone.
 */
export function referenceHashes(history: History): ReadonlyMap<string, ReadonlyMap<HashKind, string>> {
  const known = new Map<string, Map<HashKind, string>>();
  for (const file of history.generations.flatMap(({ manifest }) => manifest.files)) {
    const earlier = known.get(file.path) ?? known.get(file.previousPath ?? '') ?? new Map<HashKind, string>();
    if (file.previousPath !== undefined) known.delete(file.previousPath);
    for (const hash of file.hashes) {
      if (hash.action !== 'failed' && !earlier.has(hash.kind)) earlier.set(hash.kind, hash.value);
    }
    known.set(file.path, earlier);
  }
  return known;
}

/** Files the manifests vouch for by XXH3-128. What a later generation says of reading back replaces the earlier word. */
function filesOfHistory(history: History): readonly FillFile[] {
  const references = referenceHashes(history);
  const files = new Map<string, FillFile>();
  for (const file of history.generations.flatMap(({ manifest }) => manifest.files)) {
    const fileId = references.get(file.path)?.get('xxh128');
    const isVouched = file.hashes.some(
      (hash) => hash.kind === 'xxh128' && hash.value === fileId && hash.action !== 'failed',
    );
    if (fileId !== undefined && isVouched && file.bytes !== undefined)
      files.set(file.path, fillFileOf(file, fileId as FileId));
  }
  return [...files.values()];
}

const fillFileOf = (file: ManifestFile, fileId: FileId): FillFile => ({
  path: file.path,
  bytes: file.bytes!,
  modified: file.modified ?? epochMsOf(0),
  fileId,
  ...(file.notReadBack === undefined ? {} : { notReadBack: file.notReadBack }),
});

export interface NewGeneration {
  readonly fill: FillId;
  readonly process: Manifest['process'];
  readonly at: EpochMs;
  readonly tool: { readonly name: string; readonly version: string };
  /** What this generation says. */
  readonly files: readonly ManifestFile[];
  /** All files of the folder, from this and all earlier generations, for the directory hashes. */
  readonly allFiles: readonly FillFile[];
}

/** Writes the next manifest, then the chain that vouches for it; each is whole or absent. Resolves with its number. */
export async function addGeneration(folder: string, next: NewGeneration): Promise<number> {
  const history = await readHistory(folder);
  const chain = history?.chain ?? [];
  if (chain.some((link) => link.c4 === ''))
    throw new BringInError(
      `Expected the chain of ${folder} to go on from but it cannot be read. Bring back ${manifestFolder}/${chainName} from another copy.`,
      folder,
    );
  const number = chain.length + 1;
  const name = manifestName(number, basename(folder), next.at);
  const bytes = Buffer.from(manifestXml(await manifestOf(next)), 'utf8');
  await dropUnchained(folder, number);
  await writeWhole(join(folder, manifestFolder, name), bytes);
  const links = [...chain, { path: name, c4: c4Of(bytes) }];
  await writeWhole(join(folder, manifestFolder, chainName), Buffer.from(chainXml(links), 'utf8'));
  return number;
}

/** A manifest that no chain vouches for is the leftover of a stop between the two writes. */
async function dropUnchained(folder: string, number: number): Promise<void> {
  const prefix = `${String(number).padStart(4, '0')}_`;
  const names = await readdir(join(folder, manifestFolder)).catch(() => []);
  for (const name of names.filter((one) => one.startsWith(prefix))) await rm(join(folder, manifestFolder, name));
}

async function manifestOf(next: NewGeneration): Promise<Manifest> {
  const values = next.allFiles.map((file) => ({ path: file.path, value: file.fileId as string }));
  const hashes = directoryHashes(values, 'xxh128', await hashBytesWith('xxh128'));
  const hashed = hashes.map(({ path, content, structure }) => ({
    path,
    content: [{ kind: 'xxh128' as const, value: content, at: next.at }],
    structure: [{ kind: 'xxh128' as const, value: structure, at: next.at }],
  }));
  const root = hashed.find((directory) => directory.path === '');
  return {
    created: next.at,
    hostname: hostname(),
    tool: next.tool,
    process: next.process,
    ...(root === undefined ? {} : { root }),
    ignore: ignoredPatterns,
    files: next.files,
    directories: hashed.filter((directory) => directory.path !== ''),
    references: [],
    fill: next.fill,
  };
}
