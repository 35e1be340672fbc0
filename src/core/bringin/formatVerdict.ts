/**
 * May the card be formatted? Yes only when two copies of everything on it, read back from the disk itself, stand on
 * two different physical devices, and the card, listed again at that moment, holds nothing else.
 */
import { sameFileAs } from './recogniseFill.js';
import type { CardListing, FillFile, FormatVerdict } from './types.js';

/** Physical disks under a folder: names that differ mean devices that differ. Unknown proves nothing. */
export type Device =
  | { readonly kind: 'known'; readonly disks: readonly string[] }
  | { readonly kind: 'unknown'; readonly why: string };

export interface Copy {
  /** How the photographer knows this destination. */
  readonly disk: string;
  readonly device: Device;
  /** What this destination holds of the card's fill. */
  readonly files: readonly FillFile[];
}

const namedAtMost = 3;

/** `listing` must be made after the copies were read back; `shiftMs` as `recogniseFill` found it. */
export function formatVerdict(
  listing: CardListing,
  copies: readonly Copy[],
  shiftMs = 0,
  alsoMissing: readonly string[] = [],
): FormatVerdict {
  const isEmpty = listing.files.length === 0;
  const missing = [
    ...alsoMissing,
    ...passedOver(listing),
    ...copies.flatMap((copy) => lacking(listing, copy, shiftMs)),
    ...(isEmpty ? ['The card lists no file at all, so nothing was proven.'] : devicesShort(copies)),
  ];
  if (missing.length > 0) return { kind: 'keep', sentence: `Keep this card as it is. ${missing[0]}`, missing };
  const disks = copies.map((copy) => copy.disk).join(' and ');
  return {
    kind: 'may-be-formatted',
    sentence: `This card may be formatted: all ${listing.files.length} files on it stand verified on ${disks}.`,
  };
}

function passedOver(listing: CardListing): readonly string[] {
  return listing.passedOver
    .filter((entry) => entry.isHousekeeping !== true)
    .map((entry) => `Not brought in from the card: ${entry.path}. ${entry.why}`);
}

function lacking(listing: CardListing, copy: Copy, shiftMs: number): readonly string[] {
  const find = sameFileAs(copy.files, shiftMs, listing.files);
  const absent = listing.files.filter((file) => find(file) === undefined);
  const unread = listing.files.filter((file) => find(file)?.notReadBack !== undefined);
  const sentences: string[] = [];
  if (absent.length > 0) sentences.push(`${copy.disk} lacks ${counted(absent)}. Bring the card in again.`);
  if (unread.length > 0) {
    const why = find(unread[0]!)?.notReadBack;
    sentences.push(
      `${counted(unread)} on ${copy.disk} could not be read back from the disk itself (${why}). Start the computer anew and bring the card in again: it is then read from the disk.`,
    );
  }
  return sentences;
}

function devicesShort(copies: readonly Copy[]): readonly string[] {
  if (copies.length === 0) return ['No copy was made.'];
  if (copies.length === 1) return [`There is one copy only, on ${copies[0]!.disk}. Give a second disk.`];
  if (copies.some((one, index) => copies.slice(index + 1).some((other) => areApart(one.device, other.device))))
    return [];
  const unknown = copies.find((copy) => copy.device.kind === 'unknown');
  if (unknown?.device.kind === 'unknown') {
    return [
      `Whether ${unknown.disk} is a disk of its own could not be found out (${unknown.device.why}), so two devices are not proven.`,
    ];
  }
  return [
    `${copies.map((copy) => copy.disk).join(' and ')} are on one physical disk; if it fails, both copies go. Add a copy on another disk.`,
  ];
}

const areApart = (one: Device, other: Device): boolean =>
  one.kind === 'known' && other.kind === 'known' && !one.disks.some((disk) => other.disks.includes(disk));

function counted(files: readonly { readonly path: string }[]): string {
  const named = files
    .slice(0, namedAtMost)
    .map((file) => file.path)
    .join(', ');
  const more = files.length > namedAtMost ? ', …' : '';
  return `${files.length} ${files.length === 1 ? 'file' : 'files'} (${named}${more})`;
}
