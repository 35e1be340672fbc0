/** Looks at where copies are to go before anything is read: may it be written to, is it apart from the card, is there room. */
import { constants } from 'node:fs';
import { access, mkdir, realpath, stat, statfs } from 'node:fs/promises';
import { dirname, join, sep } from 'node:path';
import type { Device } from '../../core/bringin/formatVerdict.js';
import { spaceNeeded } from '../../core/bringin/spaceNeeded.js';
import { deviceOf } from './device.js';
import { meaningOf } from './errors.js';

export interface Destination {
  /** The meeting folder as it was given. */
  readonly folder: string;
  readonly device: Device;
}

export type LookedAt =
  | { readonly kind: 'usable'; readonly destination: Destination }
  | { readonly kind: 'refused'; readonly folder: string; readonly sentence: string };

export type DeviceFinder = (folder: string) => Promise<Device>;

export async function lookAtDestinations(
  folders: readonly string[],
  cards: readonly string[],
  findDevice: DeviceFinder = deviceOf,
): Promise<readonly LookedAt[]> {
  const seen = new Set<string>();
  const looked: LookedAt[] = [];
  for (const folder of folders) looked.push(await lookAt(folder, cards, seen, findDevice));
  return looked;
}

async function lookAt(
  folder: string,
  cards: readonly string[],
  seen: Set<string>,
  findDevice: DeviceFinder,
): Promise<LookedAt> {
  const refuse = (sentence: string): LookedAt => ({ kind: 'refused', folder, sentence });
  const onCard = await onCardTrouble(folder, cards);
  if (onCard !== null) return refuse(onCard);
  try {
    await mkdir(folder, { recursive: true });
    await access(folder, constants.W_OK);
  } catch (error) {
    return refuse(`Expected to write to ${folder} but ${meaningOf(error)}. Unlock the disk or give another.`);
  }
  const real = await realpath(folder);
  if (seen.has(real))
    return refuse(`${folder} was given twice; two copies in one place are one copy. Give a second disk.`);
  seen.add(real);
  return { kind: 'usable', destination: { folder, device: await findDevice(folder) } };
}

/** A sentence when the folder, there or not, would lie on one of the cards; null when it is apart. Looks only. */
export async function onCardTrouble(folder: string, cards: readonly string[]): Promise<string | null> {
  for (const card of cards)
    if (await isOnCard(folder, card))
      return `${folder} is on the card ${card} itself. Nothing is ever written to a card; give a folder on another disk.`;
  return null;
}

/** True when the destination lies in the card or folder, or on the volume that the card is. */
async function isOnCard(folder: string, card: string): Promise<boolean> {
  const existing = await nearestExisting(folder);
  const there = await realpath(card).catch(() => card);
  const wanted = existing.real + existing.rest;
  if (contains(there, wanted) || contains(there, join(wanted, 'cards'))) return true;
  const [a, b] = [await stat(existing.real).catch(() => null), await stat(there).catch(() => null)];
  return a !== null && b !== null && a.dev === b.dev && (await isCardVolume(there, b.dev));
}

const contains = (outer: string, inner: string): boolean =>
  inner === outer || inner.startsWith(outer.endsWith(sep) ? outer : outer + sep);

/** The root of the volume a path is on has DCIM: then the volume is a card, whichever of its folders was given. */
async function isCardVolume(path: string, dev: number): Promise<boolean> {
  const parent = dirname(path);
  const above = parent === path ? null : await stat(parent).catch(() => null);
  if (above !== null && above.dev === dev) return isCardVolume(parent, dev);
  return (await stat(join(path, 'DCIM')).catch(() => null)) !== null;
}

async function nearestExisting(path: string): Promise<{ readonly real: string; readonly rest: string }> {
  const real = await realpath(path).catch(() => null);
  if (real !== null) return { real, rest: '' };
  const above = await nearestExisting(dirname(path));
  return { real: above.real, rest: `${above.rest}${sep}${path.slice(dirname(path).length).replace(/^[\\/]/, '')}` };
}

/** A sentence when the disk lacks room for what is to come, null when it has it. */
export async function roomTrouble(folder: string, bytes: number, files: number): Promise<string | null> {
  const { bavail, bsize } = await statfs(folder);
  const free = bavail * bsize;
  const needed = spaceNeeded(bytes, files);
  if (free >= needed) return null;
  return `Expected ${gigabytes(needed, Math.ceil)} free on ${folder} for ${files} files but there are ${gigabytes(free, Math.floor)}. Make room or give another disk; nothing was copied there.`;
}

/** Rounded away from each other, so that too little never reads as enough. */
function gigabytes(bytes: number, round: (value: number) => number): string {
  const digits = bytes < 1e9 ? 3 : 1;
  return `${(round((bytes / 1e9) * 10 ** digits) / 10 ** digits).toFixed(digits)} GB`;
}
