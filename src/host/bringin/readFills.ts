/** The fills of a meeting folder, from their manifests alone. */
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { chainName, manifestFolder } from '../../core/bringin/manifest.js';
import type { Fill } from '../../core/bringin/types.js';
import { fillOfHistory, readHistory } from './history.js';

export const cardsFolder = 'cards';

/** Keyed by the folder's path; good for as long as the chain file is the same one. */
const remembered = new Map<string, { readonly mark: string; readonly fill: Fill | null }>();

/** Fills that have at least one manifest, in the order they were first brought in. Cheap when nothing changed. */
export async function readFills(meetingFolder: string): Promise<readonly Fill[]> {
  const names = await readdir(join(meetingFolder, cardsFolder)).catch(() => []);
  const fills = await Promise.all(names.map((name) => readFill(meetingFolder, name)));
  return fills
    .filter((fill) => fill !== null)
    .sort((a, b) => a.firstBroughtIn - b.firstBroughtIn || (a.folder < b.folder ? -1 : 1));
}

async function readFill(meetingFolder: string, name: string): Promise<Fill | null> {
  const folder = join(meetingFolder, cardsFolder, name);
  const mark = await markOf(folder);
  if (mark === null) return null;
  const known = remembered.get(folder);
  if (known?.mark === mark) return known.fill;
  const history = await readHistory(folder);
  const fill = history === null ? null : fillOfHistory(name, history);
  remembered.set(folder, { mark, fill });
  return fill;
}

/** Chains are replaced, never written to, so inode, size and time together tell one generation from the next. */
async function markOf(folder: string): Promise<string | null> {
  const chain = await stat(join(folder, manifestFolder, chainName)).catch(() => null);
  const found = chain ?? (await stat(join(folder, manifestFolder)).catch(() => null));
  return found === null ? null : `${found.ino}:${found.size}:${found.mtimeMs}`;
}
