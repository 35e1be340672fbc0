/**
 * What was taken down leaves every edition on this disk at once, before anything new is made: its pictures and pages
 * are removed, and so is every line of an older edition that shows or names them.
 */
import { readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Takedowns } from '../../core/finish/index.js';
import { downIds, type PublicIdOf } from '../../core/handover/index.js';
import { withoutLines } from '../../core/handover/putUp/index.js';
import { writeAtomically } from '../finish/atomically.js';

/** Returns how many files were removed. */
export async function takeDownEverywhere(galleries: string, takedowns: Takedowns, idOf: PublicIdOf): Promise<number> {
  const ids = new Set(downIds(takedowns, idOf));
  if (ids.size === 0) return 0;
  let removed = 0;
  for (const edition of await foldersIn(galleries)) removed += await takeDownIn(join(galleries, edition), ids);
  return removed;
}

async function takeDownIn(folder: string, ids: ReadonlySet<string>): Promise<number> {
  const files = await filesIn(folder);
  const down = files.filter((path) => ids.has(idOf(path) ?? ''));
  await Promise.all(down.map((path) => rm(join(folder, path), { force: true })));
  const pages = files.filter((path) => path.endsWith('.html') && !down.includes(path));
  let isChanged = down.length > 0;
  for (const page of pages) isChanged = (await isCleaned(join(folder, page), ids)) || isChanged;
  // Its lists go by places of riders, so they cannot lose one: without them the pages do by links.
  if (isChanged) await rm(join(folder, 'find'), { recursive: true, force: true });
  return down.length;
}

/** A page's, or a picture's in whatever width and format. */
const idOf = (path: string): string | undefined => /(?:^|\/)([0-9a-f]{32})(?:-\d+)?\.[a-z]+$/.exec(path)?.[1];

async function isCleaned(path: string, ids: ReadonlySet<string>): Promise<boolean> {
  const text = await readFile(path, 'utf8');
  const left = withoutLines(text, ids);
  if (left === text) return false;
  await writeAtomically(path, left);
  return true;
}

/** Paths below a folder, `/` between parts; none where there is no folder. */
export async function filesIn(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) =>
      join(entry.parentPath, entry.name)
        .slice(folder.length + 1)
        .replaceAll('\\', '/'),
    );
}

async function foldersIn(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { withFileTypes: true }).catch(() => []);
  return entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
}
