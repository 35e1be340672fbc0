/**
 * What was made of a frame lies in `made/` under its public id, its own id or its name as a final, whoever made it; in the picture
 * cache under its own id. All of it goes; what the cards brought is not looked at.
 */
import { readFile, stat } from 'node:fs/promises';
import { dirname, extname, join } from 'node:path';
import type { Exposure } from '../../core/arrange/types.js';
import { namesOf } from '../../core/finish/index.js';
import { offerWithout, type PlaceKind, type RemovedThing } from '../../core/handover/law/index.js';
import type { Offer } from '../../core/handover/orders/index.js';
import type { FrameId } from '../../core/ids.js';
import { writeAtomically } from '../finish/index.js';
import { filesIn } from '../gallery/takeDown.js';
import { readHanded } from '../organiser/index.js';
import { clearFolder, finalName, type ToClear } from './clearFolder.js';
import type { Down } from './down.js';

export interface Cleared {
  readonly removed: readonly RemovedThing[];
  /** Why something still lies there and what to do; null where nothing does. */
  readonly pending: string | null;
}

/** How the place stood when the same request was carried to it before. */
export interface Earlier {
  readonly saidAt: number;
  readonly hasLost: boolean;
}

export interface PlaceToClear {
  readonly place: string;
  readonly kind: PlaceKind;
  clear(down: Down, earlier?: Earlier): Promise<Cleared>;
}

/** Folders of `made/` in which nothing is a picture of somebody. */
const NOT_PICTURES = new Set(['taken-down', 'sheets']);

const KINDS: Readonly<Record<string, PlaceKind>> = { proofs: 'proofs', finals: 'finals', gallery: 'galleries' };

/** Which frame goes by a final's name: now, and when a set was handed to the organiser. */
export async function framesByName(
  meetingFolder: string,
  exposures: readonly Exposure[],
): Promise<ReadonlyMap<string, FrameId>> {
  const handed = (await readHanded(meetingFolder)).flatMap(({ pictures }) => pictures);
  return new Map([
    ...handed.map(({ file, frameId }) => [finalName(file), frameId as FrameId] as const),
    ...[...namesOf(exposures)].map(([frame, name]) => [name, frame] as const),
  ]);
}

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
  const toClear = toClearWith(await framesByName(meetingFolder, exposures));
  return [...folders]
    .filter((folder) => !NOT_PICTURES.has(folder))
    .sort()
    .map((folder) => ({
      place: `made/${folder}${of}`,
      kind: KINDS[folder] ?? 'taken-out',
      clear: (down, earlier) => clearMade(join(made, folder), down, toClear(down), earlier),
    }));
}

/** Small pictures and crops of the screens, outside the meeting. They are made again only for whoever looks at the frame. */
export const cachePlaces = (stateFolder: string): readonly PlaceToClear[] =>
  ['pictures', 'crops'].map((folder) => ({
    place: `screen ${folder}`,
    kind: 'cache',
    clear: async (down) => ({
      removed: await clearFolder(join(stateFolder, folder), toClearWith(new Map())(down)),
      pending: null,
    }),
  }));

async function clearMade(folder: string, down: Down, toClear: ToClear, earlier?: Earlier): Promise<Cleared> {
  const sheets = (await filesIn(folder)).filter((path) => /\.(?:pdf|zip|csv)$/i.test(path));
  const offers = await withdrawnFromOffers(folder, down);
  const files = await clearFolder(folder, toClear);
  return { removed: [...offers, ...files], pending: await sheetsLeft(folder, sheets, files.length > 0, earlier) };
}

/** Offers lie beside editions, for a service that is started with them. */
async function withdrawnFromOffers(folder: string, { ids }: Down): Promise<readonly RemovedThing[]> {
  const removed: RemovedThing[] = [];
  for (const path of (await filesIn(folder)).filter((one) => /^[\w-]+\.offer\.json$/.test(one))) {
    const offer = JSON.parse(await readFile(join(folder, path), 'utf8')) as Offer;
    const left = offerWithout(offer, ids);
    const out = left.withdrawn.length - offer.withdrawn.length;
    if (out === 0) continue;
    await writeAtomically(join(folder, path), `${JSON.stringify(left)}\n`);
    removed.push({ what: `${path}, withdrawn: ${out}`, sha256: null, bytes: null });
  }
  return removed;
}

/** What to look for in a folder, and what to call it. */
export const toClearWith =
  (byName: ReadonlyMap<string, FrameId>) =>
  ({ frames, ids }: Down): ToClear => ({
    names: (text) => (text.match(IDS) ?? []).some((id) => ids.has(id)),
    shows(path) {
      const hex = path.match(IDS) ?? [];
      if (hex.some((one) => ids.has(one))) return path;
      if (hex.some((one) => frames.has(one as FrameId)))
        return path.replace(IDS, (one) => frames.get(one as FrameId) ?? one);
      const frame = byName.get(finalName(path));
      const called = frame === undefined ? undefined : frames.get(frame);
      return called === undefined ? null : join(dirname(path), called + extname(path));
    },
  });

const IDS = /[0-9a-f]{32}/g;

/** A sheet of many pictures that somebody made cannot lose one of them; one that is newer than the request was made without it. */
async function sheetsLeft(
  folder: string,
  paths: readonly string[],
  hasLostNow: boolean,
  { saidAt, hasLost }: Earlier = { saidAt: 0, hasLost: false },
): Promise<string | null> {
  const sheets: string[] = [];
  for (const path of paths) {
    const there = await stat(join(folder, path)).catch(() => null);
    const mayShow = hasLostNow || (hasLost && (there?.mtimeMs ?? 0) <= saidAt);
    if (there !== null && mayShow && !CLEARED.test(path)) sheets.push(path);
  }
  if (sheets.length === 0) return null;
  const some = `${sheets.slice(0, 3).join(', ')}${sheets.length > 3 ? ', …' : ''}`;
  return `Pictures were removed beside ${some}, which may still show or name them. Make that folder again, or delete these files.`;
}

/** These were cleared themselves. */
const CLEARED = /(?:^|\/)captions\.csv$/;
