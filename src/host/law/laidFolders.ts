/**
 * Folders outside the meeting into which pictures were laid: the gallery's `--out`, what went to the organiser, what was taken out. This
 * machine remembers them in the meeting's state folder, so that a takedown finds them; a disk that is not here stays pending.
 */
import { createHash } from 'node:crypto';
import { readFile, stat } from 'node:fs/promises';
import { dirname, extname, join, resolve, sep } from 'node:path';
import { z } from 'zod';
import type { RemovedThing } from '../../core/handover/law/index.js';
import { OutFolder } from '../finish/index.js';
import { isOwnFile } from '../gallery/ownFiles.js';
import { writeWhole } from '../meeting/writeWhole.js';
import { clearFolder, hashed, type ToClear } from './clearFolder.js';
import type { Down } from './down.js';
import type { Cleared, PlaceToClear } from './placesHere.js';

const laid = z.object({ kind: z.enum(['gallery', 'organiser', 'taken-out']), folder: z.string() });
export type Laid = z.infer<typeof laid>;

const fileOf = (stateFolder: string): string => join(stateFolder, 'laid.json');

async function laidFolders(stateFolder: string): Promise<readonly Laid[]> {
  const text = await readFile(fileOf(stateFolder), 'utf8').catch(() => '[]');
  return z.array(laid).parse(JSON.parse(text));
}

const keep = (stateFolder: string, all: readonly Laid[]): Promise<void> =>
  writeWhole(fileOf(stateFolder), `${JSON.stringify(all)}\n`);

/** Before the first picture goes there: a kill leaves nothing that nobody knows of. */
export async function rememberLaid(stateFolder: string, kind: Laid['kind'], to: string): Promise<void> {
  const folder = resolve(to);
  const before = await laidFolders(stateFolder);
  if (before.some((one) => one.kind === kind && one.folder === folder)) return;
  await keep(stateFolder, [...before, { kind, folder }]);
}

/** Somebody says that a folder was deleted, or is no longer theirs to clear. */
export async function forgetLaid(stateFolder: string, gone: string): Promise<void> {
  const folder = resolve(gone);
  await keep(
    stateFolder,
    (await laidFolders(stateFolder)).filter((one) => one.folder !== folder),
  );
}

/** @param gone a folder that somebody says was deleted */
export async function placesLaid(
  stateFolder: string,
  toClear: (down: Down) => ToClear,
  gone: string | null = null,
): Promise<readonly PlaceToClear[]> {
  const all = await laidFolders(stateFolder);
  return all.map((one) => ({
    // No path of this machine, as everywhere in a meeting.
    place: `laid in …/${one.folder.split(sep).slice(-2).join('/')}${all.filter(isLike(one)).length > 1 ? `, ${tagOf(one)}` : ''}`,
    kind: one.kind === 'gallery' ? 'galleries' : 'taken-out',
    clear: async (down) => {
      if (gone !== null && resolve(gone) === one.folder) return { removed: [], pending: null };
      if (!(await isThere(one.folder))) return { removed: [], pending: NOT_THERE };
      return clearLaid(one, down, toClear(down));
    },
  }));
}

const isLike =
  ({ folder }: Laid) =>
  (other: Laid): boolean =>
    other.folder.split(sep).slice(-2).join() === folder.split(sep).slice(-2).join();
const tagOf = (one: Laid): string =>
  createHash('sha256')
    .update(one.kind + one.folder)
    .digest('hex')
    .slice(0, 6);

const NOT_THERE =
  'Expected this folder, into which pictures were laid, but it is not there. Attach its disk and say tyrewall take-down --again; if it was deleted, say --gone and the folder, too.';

const isThere = (folder: string): Promise<boolean> =>
  stat(folder).then(
    (found) => found.isDirectory(),
    () => false,
  );

async function clearLaid({ kind, folder }: Laid, { frames }: Down, toClear: ToClear): Promise<Cleared> {
  if (kind !== 'taken-out')
    return { removed: await clearFolder(folder, toClear, kind === 'gallery' ? isOwnFile : undefined), pending: null };
  const removed: RemovedThing[] = [];
  const out = await OutFolder.open(folder);
  const { changed } = await out.takeAway(frames, async (path, frame) => {
    const what = `${dirname(path)}/${frames.get(frame)}${extname(path)}`;
    removed.push({ what, ...(await hashed(join(folder, path))) });
  });
  await out.remember();
  return { removed, pending: changed.length === 0 ? null : changedSentence(changed.length) };
}

const changedSentence = (count: number): string =>
  `Expected what was taken out to be as it was laid, but ${count} of the pictures were changed there and were left. Take them away yourself, then say tyrewall take-down --again.`;
