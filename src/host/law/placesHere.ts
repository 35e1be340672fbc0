/**
 * What was made of a frame lies in `made/` under its public id, its own id or its name as a final, whoever made it; in the picture
 * cache under its own id. All of it goes; what the cards brought is not looked at.
 */
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readFile, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { Exposure } from '../../core/arrange/types.js';
import { namesOf } from '../../core/finish/index.js';
import type { PlaceKind, RemovedThing } from '../../core/handover/law/index.js';
import type { FrameId } from '../../core/ids.js';
import { writeAtomically } from '../finish/index.js';
import { filesIn } from '../gallery/takeDown.js';
import type { Down } from './down.js';

export interface Cleared {
  readonly removed: readonly RemovedThing[];
  /** Why something still lies there and what to do; null where nothing does. */
  readonly pending: string | null;
}

export interface PlaceToClear {
  readonly place: string;
  readonly kind: PlaceKind;
  clear(down: Down): Promise<Cleared>;
}

/** Folders of `made/` in which nothing is a picture of somebody. */
const NOT_PICTURES = new Set(['taken-down', 'put-up', 'sheets']);

const KINDS: Readonly<Record<string, PlaceKind>> = { proofs: 'proofs', finals: 'finals', gallery: 'galleries' };

/**
 * Each folder of `made/` is a place of its own.
 * @param of said of a copy on another disk, so that two places do not share a name
 */
export async function placesInMade(
  meetingFolder: string,
  exposures: readonly Exposure[],
  of = '',
): Promise<readonly PlaceToClear[]> {
  const made = join(meetingFolder, 'made');
  const folders = new Set((await filesIn(made)).flatMap((path) => (path.includes('/') ? [path.split('/')[0]!] : [])));
  const names = namesOf(exposures);
  return [...folders]
    .filter((folder) => !NOT_PICTURES.has(folder))
    .sort()
    .map((folder) => ({
      place: `made/${folder}${of}`,
      kind: KINDS[folder] ?? 'taken-out',
      clear: (down) => clearFolder(join(made, folder), down, names),
    }));
}

/** Small pictures and crops of the screens, outside the meeting. They are made again only for whoever looks at the frame. */
export const cachePlaces = (stateFolder: string): readonly PlaceToClear[] =>
  ['pictures', 'crops'].map((folder) => ({
    place: `screen ${folder}`,
    kind: 'cache',
    clear: (down) => clearFolder(join(stateFolder, folder), down, new Map()),
  }));

async function clearFolder(folder: string, down: Down, names: ReadonlyMap<FrameId, string>): Promise<Cleared> {
  const shows = matcher(down, names);
  const files = await filesIn(folder);
  const removed: RemovedThing[] = [];
  for (const path of files) {
    const what = shows(path);
    if (what !== null) removed.push(await removeHashed(join(folder, path), what));
  }
  const left = files.filter((path) => shows(path) === null);
  for (const path of left.filter((one) => one.endsWith('.html')))
    removed.push(...(await withoutLines(join(folder, path), path, down)));
  for (const path of left.filter((one) => /(?:^|\/)find\/.*\.txt$/.test(one)))
    if (await names32In(join(folder, path), down)) removed.push(await removeHashed(join(folder, path), path));
  return { removed, pending: sheetsLeft(left, removed) };
}

/** What to call a file in the proof, where it shows what was taken down; its name on this disk may tell a frame's own id. */
function matcher({ frames, ids }: Down, names: ReadonlyMap<FrameId, string>): (path: string) => string | null {
  const finals = new Map([...frames].flatMap(([frame, id]) => (names.has(frame) ? [[names.get(frame)!, id]] : [])));
  return (path) => {
    const hex = path.match(IDS) ?? [];
    if (hex.some((one) => ids.has(one))) return path;
    if (hex.some((one) => frames.has(one as FrameId)))
      return path.replace(IDS, (one) => frames.get(one as FrameId) ?? one);
    const file = basename(path);
    const called = finals.get(finalName(file));
    return called === undefined ? null : join(dirname(path), called + (/\.[a-z0-9]+$/i.exec(file)?.[0] ?? ''));
  };
}

/** Without extension and cut: `20260919-104312-hx7-c4-0047-4x5.jpg`. */
const finalName = (file: string): string => file.replace(/\.[a-z0-9]+$/i, '').replace(/-\d+x\d+$/, '');

async function removeHashed(path: string, what: string): Promise<RemovedThing> {
  const { size } = await stat(path);
  const hash = createHash('sha256');
  for await (const part of createReadStream(path)) hash.update(part as Buffer);
  await rm(path);
  return { what, sha256: hash.digest('hex'), bytes: size };
}

const IDS = /[0-9a-f]{32}/g;
const namesAny = (text: string, { ids }: Down): boolean => (text.match(IDS) ?? []).some((id) => ids.has(id));
const names32In = async (path: string, down: Down): Promise<boolean> => namesAny(await readFile(path, 'utf8'), down);

/** Pages are written so that one line is one card: it leaves with the picture it shows. */
async function withoutLines(path: string, what: string, down: Down): Promise<readonly RemovedThing[]> {
  const text = await readFile(path, 'utf8');
  const lines = text.split('\n');
  const left = lines.filter((line) => !namesAny(line, down));
  if (left.length === lines.length) return [];
  await writeAtomically(path, left.join('\n'));
  const sha256 = createHash('sha256').update(text).digest('hex');
  return [{ what: `${what}, lines taken out: ${lines.length - left.length}`, sha256, bytes: null }];
}

/** A sheet of many pictures cannot lose one of them: whoever made it makes it again. */
function sheetsLeft(left: readonly string[], removed: readonly RemovedThing[]): string | null {
  const sheets = left.filter((path) => /\.(?:pdf|zip|csv)$/i.test(path));
  if (removed.length === 0 || sheets.length === 0) return null;
  const some = `${sheets.slice(0, 3).join(', ')}${sheets.length > 3 ? ', …' : ''}`;
  return `Pictures were removed beside ${some}, which may still show or name them. Make that folder again, or delete these files.`;
}
